import { existsSync } from "node:fs";
import { Worker } from "node:worker_threads";
import type { Basis } from "../reference/basis.ts";
import type { FittedBasis } from "../season/fits.ts";
import {
  joinBlocks,
  noneTaken,
  type PlannedBlock,
  planBlocks,
  type SharedPlan,
} from "../season/plan-blocks.ts";
import {
  BLOCK,
  emptyPlan,
  type PlannedSheet,
  type Progress,
  planSheet,
  type Wanted,
} from "../season/plan-sheet.ts";
import type { ProgramTables } from "../season/program-tables.ts";

/** What the second thread is given: data only, the columns in shared memory. */
export interface RowsAsked {
  readonly tables: ProgramTables;
  /** Its formulas as text: the thread compiles them again. */
  readonly basis: Basis;
  readonly fits: FittedBasis["fits"];
  readonly plan: SharedPlan;
}

/** The worker as it lies beside the built program. Run from source there is none, and one thread plans all. */
const WORKER = new URL("./plan-rows.js", import.meta.url);

/** Rows from which a second thread is taken to be worth its start. Assumption: not measured where the two are even. */
const WORTH_A_THREAD = 20_000;

/**
 * Plans the sheet on this thread and, in a big city, on a second one beside it. Both take blocks of rows until none are left, and write
 * into the same columns; the sheet is the same as one thread makes it.
 */
export async function planInThreads(
  tables: ProgramTables,
  basis: FittedBasis,
  progress: Progress | undefined,
  wanted: Wanted,
  { worker: file = WORKER, from = WORTH_A_THREAD }: { readonly worker?: URL; readonly from?: number } = {},
): Promise<PlannedSheet> {
  const { rows } = tables.laterals;
  if (rows < from || !existsSync(file)) return planSheet(tables, basis, progress, wanted);
  const plan: SharedPlan = { columns: emptyPlan(rows, basis), wanted, blockRows: BLOCK, taken: noneTaken() };
  const { scores, ownColumns, filters, ruleBook, fits, ...data } = basis;
  const worker = new Worker(file, { workerData: { tables, basis: data, fits, plan } satisfies RowsAsked });
  try {
    const beside = new Promise<readonly PlannedBlock[]>((resolve, reject) => {
      worker.once("message", resolve);
      worker.once("error", reject);
    });
    // Until this thread's own blocks are done nobody waits for the other's, and its failure must not be unheard.
    beside.catch(() => {});
    const here = planBlocks(tables, basis, plan, progress);
    return joinBlocks(tables, plan, [...here, ...(await beside)]);
  } finally {
    await worker.terminate();
  }
}
