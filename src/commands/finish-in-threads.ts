import type { FittedBasis } from "../season/fits.ts";
import { joinBlocks, type PlannedBlocks } from "../season/plan-blocks.ts";
import { sheetLaterals } from "../season/plan-tables.ts";
import { finishProgram, type PlannedProgram, totalSheet } from "../season/planned-program.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import type { PlanThread } from "./plan-thread.ts";

/**
 * Joins, ranks and totals what was planned. Where a second thread was started, it ranks while this one does all else, or ranks too
 * where that fails.
 */
export async function finishInThreads(
  tables: ProgramTables,
  basis: FittedBasis,
  planned: PlannedBlocks,
  found: Pick<PlannedProgram, "problems" | "tallies">,
  second: PlanThread,
): Promise<PlannedProgram> {
  if (!second.isWorking) return finishProgram(tables, basis, joinBlocks(tables, planned), found);
  const ranking = second.doneBeside({ kind: "rank", laterals: sheetLaterals(tables, planned.plan.tables) });
  const sheet = joinBlocks(tables, planned);
  const totalled = totalSheet(sheet, basis);
  return finishProgram(tables, basis, sheet, found, (await ranking)?.ranking, totalled);
}
