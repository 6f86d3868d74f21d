import { parentPort } from "node:worker_threads";
import { PlanThread } from "../commands/plan-thread.ts";
import { prepareBasis } from "../commands/prepare-basis.ts";
import { BYTES_A_LATERAL } from "../commands/second-thread.ts";
import { foundIn, type SettleAsked, type SettleSaid, settleAnew } from "../commands/settle-program.ts";

const say = (said: SettleSaid) => parentPort?.postMessage(said);
/** Kept from one job to the next with its code compiled, as this one is; it ends with this one. */
const second = new PlanThread();
const notWanted = new Error("settle: another job is wanted");

/** Makes a program anew beside the sheet, a big one on two threads, and posts how far it is and once what it found. */
async function work(asked: SettleAsked): Promise<void> {
  const { job, wanted, program } = asked;
  const goOn = () => {
    if (Atomics.load(wanted, 0) !== job) throw notWanted;
  };
  const prepared = await prepareBasis(program.basis);
  // The recipe was compiled before; it can only fail here when it was changed on the way.
  if (!prepared.ok)
    throw new RangeError(`settle: ${prepared.faults.map(({ expected }) => expected).join("; ")}`);
  second.startFor(program.tables.laterals.rows * BYTES_A_LATERAL);
  try {
    goOn();
    const progress = (part: number) => {
      goOn();
      say({ kind: "progress", job, part });
    };
    say({ kind: "settled", job, found: foundIn(await settleAnew(asked, prepared.basis, progress, second)) });
  } catch (error) {
    if (error !== notWanted) throw error;
  }
}

/** One after the other: while a job waits for the second thread, the next may come. */
let last: Promise<void> = Promise.resolve();
parentPort?.on("message", (asked: SettleAsked) => {
  last = last.then(() => work(asked));
});
