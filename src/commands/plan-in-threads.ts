import type { FittedBasis } from "../season/fits.ts";
import { type PlannedBlocks, planBlocks, sharePlan, takeNoMore } from "../season/plan-blocks.ts";
import type { Progress, Wanted } from "../season/plan-sheet.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { dataOf } from "./basis-data.ts";
import type { PlanThread } from "./plan-thread.ts";

/**
 * Plans all rows on this thread and, where a second one was started, on that one beside it. Both take blocks of rows until none are left, and
 * write into the same columns; what is joined of it is the same as one thread makes it.
 *
 * @param progress told how far it is; it may throw to stop the plan
 */
export async function planInThreads(
  tables: ProgramTables,
  basis: FittedBasis,
  progress: Progress | undefined,
  wanted: Wanted,
  second: PlanThread,
): Promise<PlannedBlocks> {
  const { rows } = tables.laterals;
  const plan = sharePlan(rows, basis, wanted);
  if (!second.isWorking) return { plan, blocks: planBlocks(tables, basis, plan, progress) };
  const { fits, ...unfitted } = basis;
  const beside = second.ask({ kind: "plan rows", tables, basis: dataOf(unfitted), fits, plan });
  try {
    const here = planBlocks(tables, basis, plan, progress);
    const done = await beside;
    if (done.kind !== "plan rows") throw new RangeError(`planInThreads: the second thread ${done.kind}`);
    // The last block may have been the other thread's.
    progress?.(rows, rows);
    return { plan, blocks: [...here, ...done.blocks] };
  } catch (error) {
    takeNoMore(plan);
    await beside.catch(() => {});
    throw error;
  }
}
