import type { PlannedLateral } from "../plan/plan-lateral.ts";
import type { ReadValue } from "../plan/recipe.ts";
import { numberAt, type Table, textAt } from "../sheet/table.ts";
import { withDecisions } from "./decided-columns.ts";
import type { PreparedBasis } from "./own-columns.ts";
import { emptyPlan, rowOfPlan } from "./plan-tables.ts";
import type { ProgramTables } from "./program-tables.ts";

/** Reads a row of the planned sheet. */
export const readSheet =
  (table: Table, row: number): ReadValue =>
  (key) =>
    table.columns.get(key)?.kind === "number" ? numberAt(table, key, row) : textAt(table, key, row);

/** Reads one lateral that was planned alone, as its row of the sheet; its rank needs the others and is missing. */
export function readPlanned(
  planned: PlannedLateral,
  { laterals, decisions }: ProgramTables,
  row: number,
  basis: PreparedBasis,
): ReadValue {
  const plan: Table = { rows: 1, columns: emptyPlan(1, basis) };
  rowOfPlan(plan.columns).write(0, planned);
  const given = readSheet(withDecisions(laterals, decisions), row);
  const found = readSheet(plan, 0);
  return (key) => (plan.columns.has(key) ? found(key) : given(key));
}
