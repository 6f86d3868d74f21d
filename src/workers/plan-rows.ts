import { parentPort, workerData } from "node:worker_threads";
import type { RowsAsked } from "../commands/plan-in-threads.ts";
import { prepareBasis } from "../commands/prepare-basis.ts";
import { planBlocks } from "../season/plan-blocks.ts";

/** Plans blocks of rows beside the main thread until none are left, and posts their lists. */
const { tables, basis, fits, plan } = workerData as RowsAsked;
const prepared = await prepareBasis(basis);
// The recipe was compiled before; it can only fail here when it was changed on the way.
if (!prepared.ok)
  throw new RangeError(`plan-rows: ${prepared.faults.map(({ expected }) => expected).join("; ")}`);
parentPort?.postMessage(planBlocks(tables, { ...prepared.basis, fits }, plan));
