import { numberAt, pickRows, type Table, withColumns } from "../sheet/table.ts";
import { batchByDistrict } from "./batches.ts";
import type { PlannedProgram } from "./planned-program.ts";
import type { ObservationTables, ProgramTables } from "./program-tables.ts";
import { totalByDistrict } from "./totals.ts";

/**
 * The plan of some of the laterals: their rows as planned with all the others, ranks of the whole program included,
 * and the totals of these rows alone. Problems and the account of rows stay those of the whole program.
 *
 * @param met 1 for a row that is kept, as a filter gives it
 */
export function selectRows(program: PlannedProgram, met: Uint8Array): PlannedProgram {
  const rows = Uint32Array.from(Array.from(met.keys()).filter((row) => met[row] === 1));
  const placeOf = new Int32Array(met.length).fill(-1);
  rows.forEach((row, place) => {
    placeOf[row] = place;
  });
  const sheet = {
    laterals: pickRows(program.laterals, rows),
    offers: ofLaterals(program.offers, placeOf),
    lines: ofLaterals(program.lines, placeOf),
    materials: pickRows(program.materials, rows),
    seconds: ofLaterals(program.seconds, placeOf),
    uses: ofLaterals(program.uses, placeOf),
  };
  return {
    ...program,
    ...sheet,
    tables: tablesOf(program.tables, rows),
    order: program.order.filter((row) => placeOf[row]! >= 0).map((row) => placeOf[row]!),
    totals: totalByDistrict(sheet, program.basis),
    batches: batchByDistrict(sheet, program.basis),
    filters: program.filters.map((filter) => {
      const still = Uint8Array.from(rows, (row) => filter.met[row]!);
      return { ...filter, met: still, count: still.reduce((sum, one) => sum + one, 0) };
    }),
  };
}

/** Rows of a table that belong to the kept laterals, pointing to their new rows. */
function ofLaterals(table: Table, placeOf: Int32Array): Table {
  const kept = Array.from({ length: table.rows }, (_, at) => at).filter(
    (at) => placeOf[numberAt(table, "lateral_row", at)]! >= 0,
  );
  const picked = pickRows(table, Uint32Array.from(kept));
  const values = new Float64Array(new SharedArrayBuffer(kept.length * 8));
  kept.forEach((at, place) => {
    values[place] = placeOf[numberAt(table, "lateral_row", at)]!;
  });
  return withColumns(picked, [["lateral_row", { kind: "number", values }]]);
}

/** The tables of some of the laterals. */
export function tablesOf(tables: ProgramTables, rows: Uint32Array): ProgramTables {
  const surveys: number[] = [];
  const firstInspection = new Uint32Array(rows.length + 1);
  rows.forEach((row, place) => {
    for (let at = tables.firstInspection[row]!; at < tables.firstInspection[row + 1]!; at++) surveys.push(at);
    firstInspection[place + 1] = surveys.length;
  });
  return {
    ...tables,
    laterals: pickRows(tables.laterals, rows),
    inspections: pickRows(tables.inspections, Uint32Array.from(surveys)),
    firstInspection,
    ...(tables.observations === undefined ? {} : { observations: seenIn(tables.observations, surveys) }),
  };
}

/** What was seen in these surveys, which are the new tables' rows 0, 1, 2, … */
function seenIn({ table, first }: ObservationTables, surveys: readonly number[]): ObservationTables {
  const seen: number[] = [];
  const firstSeen = new Uint32Array(surveys.length + 1);
  surveys.forEach((survey, place) => {
    for (let at = first[survey]!; at < first[survey + 1]!; at++) seen.push(at);
    firstSeen[place + 1] = seen.length;
  });
  return { table: pickRows(table, Uint32Array.from(seen)), first: firstSeen };
}
