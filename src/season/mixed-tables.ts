import { rowOfEach } from "../sheet/row-of-each.ts";
import { rowsInOrder } from "../sheet/row-order.ts";
import { textAt } from "../sheet/table.ts";
import type { ObservationTables, ProgramTables } from "./program-tables.ts";

/**
 * The laterals of one run with the surveys of a second and the decisions of a third, matched by id: a world that never
 * was, to ask what each of them does. A lateral the second run did not have has no surveys in it.
 *
 * @param rows the laterals to take, as rows of `given`; all of them unless said
 */
export function mixTables(
  given: ProgramTables,
  surveyed: ProgramTables,
  decided: ProgramTables,
  rows: Uint32Array = Uint32Array.from({ length: given.laterals.rows }, (_, row) => row),
): ProgramTables {
  const rowOf = rowOfEach(surveyed.laterals, "lateral");
  const surveys: number[] = [];
  const firstInspection = new Uint32Array(rows.length + 1);
  for (const [at, row] of rows.entries()) {
    const there = rowOf.get(textAt(given.laterals, "lateral", row));
    if (there !== undefined)
      for (let i = surveyed.firstInspection[there]!; i < surveyed.firstInspection[there + 1]!; i++)
        surveys.push(i);
    firstInspection[at + 1] = surveys.length;
  }
  const { observations } = surveyed;
  return {
    laterals: rowsInOrder(given.laterals, rows),
    inspections: rowsInOrder(surveyed.inspections, Uint32Array.from(surveys)),
    firstInspection,
    decisions: decided.decisions,
    ...(observations === undefined ? {} : { observations: observationsOf(observations, surveys) }),
  };
}

/** The observations of these surveys, in the order of the surveys. */
function observationsOf({ table, first }: ObservationTables, surveys: readonly number[]): ObservationTables {
  const taken: number[] = [];
  const firstTaken = new Uint32Array(surveys.length + 1);
  for (const [at, survey] of surveys.entries()) {
    for (let row = first[survey]!; row < first[survey + 1]!; row++) taken.push(row);
    firstTaken[at + 1] = taken.length;
  }
  return { table: rowsInOrder(table, Uint32Array.from(taken)), first: firstTaken };
}
