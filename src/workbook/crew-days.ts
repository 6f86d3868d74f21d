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
  const sums = minutesByTreatment(contents);
  const { shiftMinutes } = program.basis.steps;
  const notes = [
    `Time at the laterals over ${shiftMinutes} productive minutes a crew-day: each visit its critical path, a crew for each kind of work; not packed into days, without travel and weather. Minutes of each step are on the sheet Basis.`,
  ];
  const columns = worked.map(
    (kind): DistrictColumn => ({
      heading: capital(kind),
      width: 13,
      format: HUNDREDTHS,
      of: (totals) => sums.get(totals)![kind] / shiftMinutes,
    }),
  );
  const sheet = districtSheet(contents, { name: "Crew-days", title: "Crew-days", notes }, columns);
  const last = columnLetter(columns.length);
  // Not rounded: a sum of what was rounded is another figure.
  const across = (row: number, minutes: number): Cell =>
    formula(`SUM(B${row}:${last}${row})`, minutes / shiftMinutes);
  const { districts, program: all } = program.totals;
  const first = firstRow(notes);
  return {
    ...sheet,
    columns: [...sheet.columns, { heading: "All treatments", width: 13, format: HUNDREDTHS }],
    rows: [...sheet.rows].map((row, i): Row => [...row, across(first + i, districts[i]!.crewMinutes)]),
    foot: sheet.foot!.map((row): Row => [...row, across(first + districts.length, all.crewMinutes)]),
  };
}

type ByTreatment = Record<TreatmentKind, number>;

/** Crew time by treatment, of each district and of the program. */
function minutesByTreatment({ program }: BookContents): ReadonlyMap<Totals, ByTreatment> {
  const { laterals, totals } = program;
  const none = (): ByTreatment =>
    Object.fromEntries(treatmentKinds.map((kind) => [kind, 0])) as Record<TreatmentKind, number>;
  const all = none();
  const byName = new Map(totals.districts.map((district) => [district.district, none()]));
  for (let row = 0; row < laterals.rows; row++) {
    const treatment = textAt(laterals, "treatment", row) as TreatmentKind;
    const minutes = numberAt(laterals, "crew_minutes", row);
    byName.get(textAt(laterals, "district", row))![treatment] += minutes;
    all[treatment] += minutes;
  }
  return new Map([
    [totals.program, all],
    ...totals.districts.map((district) => [district, byName.get(district.district)!] as const),
  ]);
}
