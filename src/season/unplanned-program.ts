import { type ColumnData, missingNumbers, missingWords, withColumns } from "../sheet/table.ts";
import { withDecisions } from "./decided-columns.ts";
import type { PreparedBasis } from "./own-columns.ts";
import { emptyPlan } from "./plan-tables.ts";
import { type PlannedProgram, planProgram } from "./planned-program.ts";
import type { ProgramTables } from "./program-tables.ts";
import { tablesOf } from "./select-rows.ts";

/**
 * A program as it is before anything is planned, to be looked at while the plan is made: the city's laterals in the order of the file,
 * every column of the plan missing, nothing totalled.
 */
export function unplannedProgram(
  tables: ProgramTables,
  basis: PreparedBasis,
  found: Pick<PlannedProgram, "problems" | "tallies">,
): PlannedProgram {
  const { rows } = tables.laterals;
  const none = planProgram(tablesOf(tables, new Uint32Array(0)), basis, { problems: [], tallies: [] });
  // One column of missing numbers stands for all of them: nobody writes into a plan that is not there.
  const missing = missingNumbers(rows);
  const { codes } = missingWords(rows, []);
  const columns = new Map<string, ColumnData>(
    [...emptyPlan(0, basis)].map(([key, column]) => [
      key,
      column.kind === "code" ? { ...column, codes } : missing,
    ]),
  );
  for (const key of ["rank", ...basis.ownColumns.map(({ column }) => column.key)]) columns.set(key, missing);
  return {
    ...none,
    ...found,
    tables,
    laterals: withColumns(withDecisions(tables.laterals, tables.decisions), columns),
    order: Uint32Array.from({ length: rows }, (_, row) => row),
    filters: none.filters.map((filter) => ({ ...filter, met: new Uint8Array(rows), count: 0 })),
  };
}
