import type { FittedBasis } from "../season/fits.ts";
import { joinBlocks, planBlocks, sharePlan, takeNoMore } from "../season/plan-blocks.ts";
import { type PlannedSheet, type Progress, planSheet, type Wanted } from "../season/plan-sheet.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { dataOf } from "./basis-data.ts";
import type { PlanThread } from "./plan-thread.ts";

/**
 * Plans the sheet on this thread and, where a second one was started, on that one beside it. Both take blocks of rows until none are left, and
 * write into the same columns; the sheet is the same as one thread makes it.
 *
 * @param progress told how far it is; it may throw to stop the plan
 */
export async function planInThreads(
  tables: ProgramTables,
  basis: FittedBasis,
  progress: Progress | undefined,
  wanted: Wanted,
  second: PlanThread,
): Promise<PlannedSheet> {
  if (!second.isWorking) return planSheet(tables, basis, progress, wanted);
  const { rows } = tables.laterals;
  const plan = sharePlan(rows, basis, wanted);
  const { fits, ...unfitted } = basis;
  const beside = second.ask({ kind: "plan rows", tables, basis: dataOf(unfitted), fits, plan });
  try {
    const here = planBlocks(tables, basis, plan, progress);
    const done = await beside;
    if (done.kind !== "plan rows") throw new RangeError(`planInThreads: the second thread ${done.kind}`);
    // The last block may have been the other thread's.
    progress?.(rows, rows);
    return joinBlocks(tables, plan, [...here, ...done.blocks]);
  } catch (error) {
    takeNoMore(plan);
    await beside.catch(() => {});
    throw error;
  }
}
