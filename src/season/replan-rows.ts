import type { Decisions } from "../columns/decided.ts";
import { lateralColumns } from "../columns/lateral-columns.ts";
import { planLateral } from "../plan/plan-lateral.ts";
import { type ColumnData, type NumberColumn, textAt } from "../sheet/table.ts";
import { copyOf, restore, write } from "./decided-columns.ts";
import { lateralAt } from "./lateral-at.ts";
import { finite } from "./own-columns.ts";
import { sheetOfOne } from "./plan-sheet.ts";
import { rowOfPlan } from "./plan-tables.ts";
import type { PlannedProgram } from "./planned-program.ts";
import { readSheet } from "./read-planned.ts";
import { movedTotals, totalByDistrict } from "./totals.ts";

/**
 * The program after other decisions on some of its laterals: their rows planned again with the fits as they were, the
 * program's own columns, filters and totals following. Ranks, fits, offers, bid lines and batches wait for a new plan of
 * the whole (see `planProgram`). The plan's columns are written in place; the city's are never touched.
 */
export function replanRows(
  program: PlannedProgram,
  decisions: Decisions,
  rows: readonly number[],
): PlannedProgram {
  const { basis } = program;
  const tables = { ...program.tables, decisions };
  const columns = new Map(program.laterals.columns);
  const laterals = { rows: program.laterals.rows, columns };
  const filters = program.filters.map((filter) => ({ ...filter, met: filter.met.slice() }));
  const writer = rowOfPlan(columns);
  let { totals } = program;
  for (const row of rows) {
    const before = planLateral(lateralAt(program.tables, row), basis);
    const after = planLateral(lateralAt(tables, row), basis);
    writeGiven(program, columns, decisions, row);
    writer.write(row, after);
    const read = readSheet(laterals, row);
    for (const { column, evaluate } of basis.ownColumns)
      (columns.get(column.key) as NumberColumn).values[row] = finite(evaluate(read));
    for (const [i, { evaluate }] of basis.filters.entries())
      filters[i]!.met[row] = evaluate(read) === 1 ? 1 : 0;
    totals = movedTotals(
      totals,
      totalByDistrict(sheetOfOne(program.tables, row, before, basis), basis),
      totalByDistrict(sheetOfOne(tables, row, after, basis), basis),
    );
  }
  return {
    ...program,
    tables,
    laterals,
    filters: filters.map((filter) => ({ ...filter, count: filter.met.reduce((sum, one) => sum + one, 0) })),
    totals,
  };
}

/** The city's values of a row as planned with: a decision over the city's value, or the city's value again. */
function writeGiven(
  { tables }: PlannedProgram,
  columns: Map<string, ColumnData>,
  decisions: Decisions,
  row: number,
): void {
  const id = textAt(tables.laterals, "lateral", row);
  const before = tables.decisions.get(id);
  const after = decisions.get(id);
  for (const { key } of lateralColumns) {
    const value = after?.get(key)?.value;
    if (value === undefined && before?.has(key) !== true) continue;
    let column = columns.get(key);
    if (column === undefined || column === tables.laterals.columns.get(key)) {
      column = copyOf(tables.laterals, key);
      columns.set(key, column);
    }
    if (value === undefined) restore(column, tables.laterals, key, row);
    else write(column, key, row, value);
  }
}
