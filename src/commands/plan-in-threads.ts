import type { BlockageFits } from "../cohort/blockage-tables.ts";
import type { InspectionFile } from "../columns/city-file.ts";
import type { InspectionReading } from "../intake/inspection-file.ts";
import type { InspectionsAhead } from "../intake/inspections-ahead.ts";
import type { Basis } from "../reference/basis.ts";
import type { RecordRows } from "../season/city-record.ts";
import type { FittedBasis } from "../season/fits.ts";
import {
  type PlannedBlock,
  type PlannedBlocks,
  planBlocks,
  type SharedPlan,
  sharePlan,
  takeNoMore,
} from "../season/plan-blocks.ts";
import type { Progress, Wanted } from "../season/plan-sheet.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import type { Ranking } from "../season/rank.ts";
import type { Table } from "../sheet/table.ts";
import { dataOf } from "./basis-data.ts";
import { SecondThread } from "./second-thread.ts";

/** What the second thread is asked to do. Data only, columns in shared memory. */
export type BesideJob =
  | {
      readonly kind: "read inspections";
      readonly folder: string;
      readonly files: readonly InspectionFile[];
      readonly ownWords: InspectionReading["ownWords"];
    }
  | {
      readonly kind: "read record";
      readonly tables: ProgramTables;
      readonly basis: Basis;
      readonly rows: RecordRows;
    }
  | {
      readonly kind: "plan rows";
      readonly tables: ProgramTables;
      /** Its formulas as text: the thread compiles them again. */
      readonly basis: Basis;
      readonly fits: FittedBasis["fits"];
      readonly plan: SharedPlan;
    }
  | { readonly kind: "fit blockages"; readonly rows: RecordRows; readonly basis: Basis }
  | { readonly kind: "rank"; readonly laterals: Table };

export type BesideDone =
  | { readonly kind: "read inspections"; readonly parts: readonly InspectionsAhead[] }
  | { readonly kind: "read record" }
  | { readonly kind: "plan rows"; readonly blocks: readonly PlannedBlock[] }
  | { readonly kind: "fit blockages"; readonly fits: BlockageFits }
  | { readonly kind: "rank"; readonly ranking: Ranking };

/** The thread that works beside the one that reads and plans a big city. */
export class PlanThread extends SecondThread<BesideJob, BesideDone> {}

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
