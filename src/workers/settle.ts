import { parentPort } from "node:worker_threads";
import { PlanThread, planInThreads } from "../commands/plan-in-threads.ts";
import { prepareBasis } from "../commands/prepare-basis.ts";
import { BYTES_A_LATERAL } from "../commands/second-thread.ts";
import { inSeason, type SettleAsked, type SettleSaid } from "../commands/settle-program.ts";
import { fitProgram } from "../season/fits.ts";
import { finishProgram } from "../season/planned-program.ts";

const say = (said: SettleSaid) => parentPort?.postMessage(said);

/** Plans a program anew beside the sheet, a big one on two threads, and posts how far it is and once what it found. */
parentPort?.once("message", async ({ tables, basis, problems, tallies, season }: SettleAsked) => {
  const prepared = await prepareBasis(basis);
  // The recipe was compiled before; it can only fail here when it was changed on the way.
  if (!prepared.ok)
    throw new RangeError(`settle: ${prepared.faults.map(({ expected }) => expected).join("; ")}`);
  const second = new PlanThread();
  second.startFor(tables.laterals.rows * BYTES_A_LATERAL);
  const fitted = fitProgram(tables, prepared.basis);
  const progress = (done: number, total: number) =>
    say({ kind: "progress", part: done / Math.max(1, total) });
  const sheet = await planInThreads(tables, fitted, progress, "everything", second);
  await second.end();
  const planned = inSeason(finishProgram(tables, fitted, sheet, { problems, tallies }), season);
  const { basis: _known, tables: _same, ...found } = planned;
  say({ kind: "settled", found: { ...found, fits: fitted.fits } });
});
