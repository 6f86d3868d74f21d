import { type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import type { Totals } from "../season/totals.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { type BookContents, capital } from "./book-contents.ts";
import { type DistrictColumn, districtSheet } from "./district-table.ts";
import { HUNDREDTHS } from "./number-format.ts";
import { columnLetter } from "./references.ts";
import { type Cell, firstRow, formula, type Row, type SheetModel } from "./sheet-model.ts";

/** Crew-days by district and treatment. */
export function crewDaysSheet(contents: BookContents): SheetModel {
  const { program } = contents;
  const worked = treatmentKinds.filter((kind) => kind !== "leave and re-inspect");
  const sums = crewDayHundredths(contents);
  const notes = [
    `Time at the laterals over ${program.basis.steps.shiftMinutes} productive minutes a crew-day: each visit its critical path, a crew for each kind of work; not packed into days, without travel and weather. Minutes of each step are on the sheet Basis.`,
  ];
  const columns = worked.map(
    (kind): DistrictColumn => ({
      heading: capital(kind),
      width: 13,
      format: HUNDREDTHS,
      of: (totals) => sums.get(totals)![kind] / 100,
    }),
  );
  const sheet = districtSheet(contents, { name: "Crew-days", title: "Crew-days", notes }, columns);
  const last = columnLetter(columns.length);
  const across = (row: number, hundredths: number): Cell =>
    formula(`ROUND(SUM(B${row}:${last}${row}),2)`, hundredths / 100);
  const { districts, program: all } = program.totals;
  const first = firstRow(notes);
  return {
    ...sheet,
    columns: [...sheet.columns, { heading: "All treatments", width: 13, format: HUNDREDTHS }],
    rows: [...sheet.rows].map((row, i): Row => [...row, across(first + i, districts[i]!.crewDayHundredths)]),
    foot: sheet.foot!.map((row): Row => [...row, across(first + districts.length, all.crewDayHundredths)]),
  };
}

type ByTreatment = Record<TreatmentKind, number>;

/** Hundredths of a crew-day by treatment, of each district and of the program. */
function crewDayHundredths({ program }: BookContents): ReadonlyMap<Totals, ByTreatment> {
  const { laterals, materials, totals } = program;
  const none = (): ByTreatment =>
    Object.fromEntries(treatmentKinds.map((kind) => [kind, 0])) as Record<TreatmentKind, number>;
  const all = none();
  const byName = new Map(totals.districts.map((district) => [district.district, none()]));
  for (let row = 0; row < laterals.rows; row++) {
    const treatment = textAt(laterals, "treatment", row) as TreatmentKind;
    const hundredths = numberAt(materials, "crew_day_hundredths", row);
    byName.get(textAt(laterals, "district", row))![treatment] += hundredths;
    all[treatment] += hundredths;
  }
  return new Map([
    [totals.program, all],
    ...totals.districts.map((district) => [district, byName.get(district.district)!] as const),
  ]);
}
