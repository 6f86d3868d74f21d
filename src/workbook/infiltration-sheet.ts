import { districtName } from "../quantity/district-name.ts";
import { quantities, toShown } from "../quantity/measure.ts";
import { showStatedPercent } from "../quantity/percent.ts";
import { unitLabel } from "../quantity/show-quantity.ts";
import { type BookContents, styleOf } from "./book-contents.ts";
import { decimalsFormat, WHOLE } from "./number-format.ts";
import type { Cell, Row, SheetColumn, SheetModel } from "./sheet-model.ts";

/** Clear water by district: how much, what it costs, what the plan keeps out, and the screening of whole sewersheds. */
export function infiltrationSheet(contents: BookContents): SheetModel {
  const style = styleOf(contents);
  const { water, screening } = contents.picture;
  const flow = (litresPerSecond: number | undefined): Cell =>
    litresPerSecond === undefined ? null : toShown(litresPerSecond, "flow", style.units);
  const money = (cents: number | null | undefined): Cell =>
    cents === null || cents === undefined ? null : Math.round(cents) / 100;
  const unit = unitLabel("flow", style);
  const flows = (heading: string): SheetColumn => ({
    heading: `${heading} (${unit})`,
    width: 12,
    format: decimalsFormat(quantities.flow.decimals[style.units]),
  });
  const amount = (heading: string): SheetColumn => ({
    heading: `${heading} (${style.currency})`,
    width: 13,
    format: decimalsFormat(2),
  });
  const people: SheetColumn = { heading: "People", width: 9, format: WHOLE };
  const perPerson = (heading: string): SheetColumn => ({
    heading: `${heading} (gal per person and day)`,
    width: 14,
    format: decimalsFormat(1),
  });
  const names = [
    ...water.before.map(({ district }) => district),
    ...screening.filter(({ laterals }) => laterals === 0).map(({ district }) => district),
  ];
  const rows = names.map((district): Row => {
    const before = water.before.find((each) => each.district === district);
    const kept = water.removed.find(({ sewershed }) => sewershed === district);
    const screened = screening.find((each) => each.district === district);
    return [
      districtName(district),
      flow(before?.flow),
      before?.unsized ?? null,
      money(before?.treatment),
      kept?.laterals ?? null,
      flow(kept?.removed.least),
      flow(kept?.removed.best),
      flow(kept?.removed.most),
      money(before?.worth?.programPerYear),
      money(before?.worth?.savedPerYear),
      money(before?.worth?.breakEven),
      before?.worth?.verdict ?? null,
      screened?.population ?? null,
      screened?.infiltration?.gpcd ?? null,
      screened?.infiltration?.says ?? null,
      screened?.inflow?.gpcd ?? null,
      screened?.inflow?.says ?? null,
    ];
  });
  return {
    name: "Infiltration",
    title: "Infiltration and inflow by district",
    notes: notesOf(contents),
    columns: [
      { heading: "District", width: 20 },
      flows("All laterals"),
      { heading: "Unknown size", width: 9, format: WHOLE },
      amount("To transport and treat, a year"),
      { heading: "Laterals sealed", width: 9, format: WHOLE },
      flows("Kept out, least"),
      flows("Kept out, best"),
      flows("Kept out, most"),
      amount("Work and renewals, a year"),
      amount("Saved, a year"),
      amount("Work pays up to"),
      { heading: "Against infiltration alone", width: 18, wrap: true },
      people,
      perPerson("High groundwater"),
      { heading: "Limit of 120", width: 24, wrap: true },
      perPerson("Storm"),
      { heading: "Limit of 275", width: 24, wrap: true },
    ],
    rows,
    frozenColumns: 1,
    pagesWide: 2,
    locked: false,
  };
}

const notesOf = ({ picture: { screening }, program: { basis } }: BookContents): readonly string[] => [
  "Flows are means of the season of high groundwater from an assumed unit rate (Basis); never a peak. Kept out: after migration, least to most.",
  `Work and what it saves: over ${basis.life.horizonYears} years at ${showStatedPercent(basis.life.discountRate)}, each work renewed at the end of its life (Basis); what else the work is for is left out.`,
  "Cost effectiveness: 40 CFR 35.2005(b)(16) and (28). Limits per person: 40 CFR 35.2120, of whole sewersheds; they judge no lateral.",
  screening.length === 0
    ? "No sewershed has its people and flows in program.json (criteria.sewersheds): nothing is screened."
    : `People and flows: ${[...new Set(screening.map(({ source }) => source.note ?? source.document))].join("; ")}`,
];
