import { districtName } from "../quantity/district-name.ts";
import { quantities, toShown } from "../quantity/measure.ts";
import { showCount, unitLabel } from "../quantity/show-quantity.ts";
import { litresOf } from "../quantity/summed-flow.ts";
import type { SeasonTotals } from "../season/selection/season-totals.ts";
import { type BookContents, styleOf } from "./book-contents.ts";
import { decimalsFormat, HUNDREDTHS, WHOLE } from "./number-format.ts";
import type { Cell, Row, SheetColumn, SheetModel } from "./sheet-model.ts";

/** A lateral that the season or the ranked cut takes; null where that one leaves it out. Costs in cents. */
export interface SelectedLateral {
  readonly lateral: string;
  readonly district: string;
  readonly rank: number;
  readonly season: SelectedWork | null;
  readonly rankedCut: SelectedWork | null;
}
export interface SelectedWork {
  readonly treatment: string;
  readonly cost: number;
}

/** A saved season for the planning book, with the ranked cut under the same rules beside it. */
export interface BookedSelection {
  readonly name: string;
  /** What was asked and how far it is proven, a line each. */
  readonly said: readonly string[];
  /** By rank. */
  readonly laterals: readonly SelectedLateral[];
  readonly season: DistrictSums;
  readonly rankedCut: DistrictSums;
}
export interface DistrictSums {
  readonly districts: readonly SeasonTotals[];
  readonly program: SeasonTotals;
}

/** Which laterals a saved season takes and which the ranked cut would take, and what each comes to by district. */
export function seasonSheets(contents: BookContents, selected: BookedSelection): readonly SheetModel[] {
  const { currency } = styleOf(contents);
  const cost = paysShare(contents) ? "City's share of cost" : "Cost";
  const works = (of: string): readonly SheetColumn[] => [
    { heading: `Treatment, ${of}`, width: 28 },
    { heading: `${cost}, ${of} (${currency})`, width: 14, format: HUNDREDTHS },
  ];
  const cells = (work: SelectedWork | null): readonly Cell[] =>
    work === null ? [null, null] : [work.treatment, money(work.cost)];
  return [
    {
      name: "Season",
      title: `Season ${selected.name}: what is in, beside the ranked cut`,
      notes: [...selected.said],
      columns: [
        { heading: "Lateral", width: 14 },
        { heading: "District", width: 14 },
        { heading: "Rank", width: 7, format: WHOLE },
        ...works("this season"),
        ...works("ranked cut"),
      ],
      rows: selected.laterals.map(({ lateral, district, rank, season, rankedCut }) => [
        lateral,
        districtName(district),
        rank,
        ...cells(season),
        ...cells(rankedCut),
      ]),
      foot: [
        [
          paysShare(contents) ? "Works, city's share" : "Works",
          null,
          null,
          null,
          money(selected.season.program.works),
          null,
          money(selected.rankedCut.program.works),
        ],
      ],
      frozenColumns: 1,
      pagesWide: 1,
      locked: false,
      filtered: true,
    },
    districtsSheet(contents, selected),
  ];
}

function districtsSheet(contents: BookContents, { name, season, rankedCut }: BookedSelection): SheetModel {
  const style = styleOf(contents);
  const flow: Partial<SheetColumn> = { format: decimalsFormat(quantities.flow.decimals[style.units]) };
  const columnsOf = (of: string): readonly SheetColumn[] => [
    { heading: `In, ${of}`, width: 9, format: WHOLE },
    ...[paysShare(contents) ? "Works, city's share" : "Works", "Mobilization", "Loss avoided"].map(
      (what) => ({
        heading: `${what}, ${of} (${style.currency})`,
        width: 15,
        format: HUNDREDTHS,
      }),
    ),
    { heading: `Infiltration removed, ${of} (${unitLabel("flow", style)})`, width: 13, ...flow },
  ];
  const cellsOf = (t: SeasonTotals): readonly Cell[] => [
    t.chosen,
    money(t.works),
    money(t.mobilization),
    money(t.lossAvoided),
    toShown(litresOf(t.infiltrationRemoved), "flow", style.units),
  ];
  const row = (label: string, ours: SeasonTotals, cut: SeasonTotals): Row => [
    label,
    ours.laterals,
    ...cellsOf(ours),
    ...cellsOf(cut),
  ];
  const { withoutLoss, withoutInfiltration } = season.program;
  return {
    name: "Season districts",
    title: `Season ${name} by district, beside the ranked cut`,
    notes: [
      `Not known, and in no sum: loss of ${showCount(withoutLoss)} lateral(s), infiltration of ${showCount(withoutInfiltration)}.`,
    ],
    columns: [
      { heading: "District", width: 16 },
      { heading: "Laterals", width: 9, format: WHOLE },
      ...columnsOf("this season"),
      ...columnsOf("ranked cut"),
    ],
    rows: season.districts.map((ours, d) => row(districtName(ours.district), ours, rankedCut.districts[d]!)),
    foot: [row("Program", season.program, rankedCut.program)],
    frozenColumns: 1,
    pagesWide: 1,
    locked: false,
  };
}

const paysShare = ({ program }: BookContents): boolean => program.basis.budgetPays === "city share";

const money = (cents: number): number => Math.round(cents) / 100;
