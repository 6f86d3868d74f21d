import type { FittedBasis } from "../season/fits.ts";
import {
  type PlannedBlocks,
  planBlocks,
  type SharedPlan,
  sharePlan,
  takeNoMore,
} from "../season/plan-blocks.ts";
import type { Progress, Wanted } from "../season/plan-sheet.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { dataOf } from "./basis-data.ts";
import type { PlanThread } from "./plan-thread.ts";

/**
 * Plans all rows on this thread and, where a second one was started, on that one beside it. Both take blocks of rows until none are left, and
 * write into the same columns; what is joined of it is the same as one thread makes it. Where the second one fails, its lists are lost with
 * it, and all rows are planned anew on this one.
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
  const toPlan = () => sharePlan(tables.laterals.rows, basis, wanted);
  const shared = second.isWorking ? await planBeside(tables, basis, progress, toPlan(), second) : null;
  if (shared !== null) return shared;
  const plan = toPlan();
  return { plan, blocks: planBlocks(tables, basis, plan, progress) };
}

/** Null where the second thread failed. */
async function planBeside(
  tables: ProgramTables,
  basis: FittedBasis,
  progress: Progress | undefined,
  plan: SharedPlan,
  second: PlanThread,
): Promise<PlannedBlocks | null> {
  const { rows } = tables.laterals;
  const { fits, ...unfitted } = basis;
  const beside = second.doneBeside({ kind: "plan rows", tables, basis: dataOf(unfitted), fits, plan });
  try {
    const here = planBlocks(tables, basis, plan, progress);
    const done = await beside;
    if (done === null) return null;
    // The last block may have been the other thread's.
    progress?.(rows, rows);
    return { plan, blocks: [...here, ...done.blocks] };
  } catch (error) {
    takeNoMore(plan);
    await beside;
    throw error;
  }
}
