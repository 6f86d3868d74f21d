import { crewDayParts } from "../quantity/crew-days.ts";
import { districtName } from "../quantity/district-name.ts";
import { type DateStyle, showDate } from "../quantity/show-date.ts";
import { showQuantity } from "../quantity/show-quantity.ts";
import type { Day } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { describeSource } from "../reference/source.ts";
import type { SeasonUncertainty, UncertainDistrict } from "../season/uncertainty/season-uncertainty.ts";
import { type BookContents, styleOf } from "./book-contents.ts";
import { dateCell, HUNDREDTHS, WHOLE } from "./number-format.ts";
import { pagesAcross } from "./page-breaks.ts";
import type { Cell, Row, SheetColumn, SheetModel } from "./sheet-model.ts";
import { priceNote } from "./summary.ts";

const percentiles = ["p10", "p50", "p80", "p90"] as const;

/** How sure cost and finish are by district; and in a sheet of its own, which prints as prose does, what drives them. */
export const uncertaintySheets = (contents: BookContents): readonly SheetModel[] => [
  districtsSheet(contents),
  driversSheet(contents),
];

const holds = ({ plannedHolds }: { readonly plannedHolds: number }): number => Math.round(plannedHolds * 100);

function districtsSheet(contents: BookContents): SheetModel {
  const { uncertainty: found } = contents;
  const isShare = contents.program.basis.budgetPays === "city share";
  const style = styleOf(contents);
  const lumpSums = lumpSumsBeside(found, contents.program.basis);
  const notes = [
    priceNote(contents),
    `${found.draws} possible seasons, ${found.shape} distributions, seed ${found.seed}. P10: one season in ten comes to no more, or is done by then; P80: four of five. What is done counts as it was. The planned cost of the program holds in ${holds(found.program.cost)} seasons of 100, its planned crew-days in ${holds(found.program.crewDays)}${found.program.finish?.planned == null ? "" : `, its planned finish, ${showDate(found.program.finish.planned, style.dates)}, in ${holds(found.program.finish)}`}.`,
    ...(lumpSums === null ? [] : [lumpSums]),
  ];
  const money = (heading: string): SheetColumn => ({
    heading: `${heading} (${style.currency})`,
    width: 14,
    format: HUNDREDTHS,
  });
  const columns: readonly SheetColumn[] = [
    { heading: "District", width: 16, wrap: true },
    money(isShare ? "City's share of planned cost" : "Planned cost"),
    ...percentiles.map((p) => money(`${isShare ? "City's share" : "Cost"} ${p.toUpperCase()}`)),
    { heading: "Planned crew-days", width: 10, format: HUNDREDTHS },
    ...percentiles.map((p) => ({ heading: `Crew-days ${p.toUpperCase()}`, width: 10, format: HUNDREDTHS })),
    ...percentiles.map((p) => ({ heading: `Finish ${p.toUpperCase()}`, width: 12 })),
    { heading: "Finished in season", width: 11, format: "0 %" },
  ];
  // As in the plan's table: districts add up to the program.
  const planned = crewDayParts(
    found.districts.map(({ crewDays }) => crewDays.planned),
    1,
  );
  const row = (name: string, { cost, crewDays, finish }: UncertainDistrict, plannedDays: number): Row => [
    name,
    cents(cost.planned),
    ...percentiles.map((p) => cents(cost[p])),
    plannedDays / 100,
    ...percentiles.map((p) => hundredths(crewDays[p])),
    ...percentiles.map((p): Cell => (finish === null ? null : onDay(finish[p], style.dates))),
    finish === null ? null : finish.inSeason,
  ];
  return {
    name: "Uncertainty",
    title: "Uncertainty of cost and finish",
    notes,
    columns,
    rows: found.districts.map((own, d) => row(districtName(own.district), own, planned[d]!)),
    foot: [
      row(
        "Program (not the sum: districts are not all dear at once)",
        found.program,
        planned.reduce((sum, each) => sum + each, 0),
      ),
    ],
    frozenColumns: 1,
    pagesWide: pagesAcross(columns, 1),
    locked: false,
  };
}

/** The contingency that the uncertainty asks for, what moves cost and finish, and what moves together. */
function driversSheet(contents: BookContents): SheetModel {
  const { uncertainty: found, program } = contents;
  const { uncertainty: table } = program.basis;
  const style = styleOf(contents);
  const { currency } = style;
  const lumpSums = lumpSumsBeside(found, contents.program.basis);
  const said = (what: string, value: Cell): Row => [what, value];
  const ratio = (value: number): Cell => ({ kind: "number", value, format: "0.00" });
  return {
    name: "Uncertainty drivers",
    title: "Uncertainty drivers and contingency",
    notes: [priceNote(contents)],
    columns: [
      { heading: "What", width: 80, wrap: true },
      { heading: "Value", width: 16, format: HUNDREDTHS },
    ],
    rows: [
      section("Contingency"),
      said(
        `Over the planned cost, holds in ${Math.round(table.contingencyLevel * 100)} seasons of 100 (${currency})`,
        cents(found.contingency),
      ),
      ...(lumpSums === null ? [] : [said(lumpSums, null)]),
      said(
        `The same cost through ${found.otherShape.shape} distributions: mean`,
        cents(found.otherShape.mean),
      ),
      said(`The same cost through ${found.otherShape.shape} distributions: P80`, cents(found.otherShape.p80)),
      said("Laterals that turn out to need another treatment, mean", ratio(found.meanChanged)),
      said("Estimate class", { kind: "number", value: table.estimateClass, format: WHOLE }),
      said(describeSource(table.estimateClassSource), null),
      section("What moves the cost: rank correlation"),
      ...found.drivers.cost.map(({ words, rho }) => said(words, ratio(rho))),
      section(`What moves the ${found.program.finish === null ? "crew time" : "finish"}: rank correlation`),
      ...found.drivers.time.map(({ words, rho }) => said(words, ratio(rho))),
      section("What moves together"),
      ...found.notes.map((note) => said(note, null)),
    ],
    frozenColumns: 0,
    pagesWide: 1,
    portrait: true,
    locked: false,
  };
}

const section = (text: string): Row => [{ kind: "section", text }];
const cents = (amount: number): number => Math.round(amount) / 100;
const hundredths = (value: number): number => Math.round(value * 100) / 100;
const onDay = (day: Day | null, style: DateStyle): Cell =>
  day === null ? "after season" : dateCell(day, style);

/** What of the bid's cost no sum of the worlds holds; null where no lump sum has a price. */
export function lumpSumsBeside(
  { lumpSums, program: { cost } }: Pick<SeasonUncertainty, "lumpSums" | "program">,
  { budgetPays, program: style }: Pick<Basis, "budgetPays" | "program">,
): string | null {
  if (lumpSums.cents === 0) return null;
  const money = (cents: number) => showQuantity(cents, "money", style);
  return `Not in these sums: the bid's lump sums (${lumpSums.items.join(", ")}), ${money(lumpSums.cents)} at the program's unit prices. With them as fixed${budgetPays === "city share" ? ", and of all else the city's share" : ""}: planned ${money(cost.planned + lumpSums.cents)}, P80 ${money(cost.p80 + lumpSums.cents)}.`;
}
