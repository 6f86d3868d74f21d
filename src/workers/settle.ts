import { parentPort } from "node:worker_threads";
import { prepareBasis } from "../commands/prepare-basis.ts";
import { planSettled, type SettleAsked, type Settled } from "../commands/settle-program.ts";

/** Plans a program anew in a thread of its own and posts what it found, once. */
parentPort?.once("message", async (asked: SettleAsked) => {
  const prepared = await prepareBasis(asked.basis);
  // The recipe was compiled before; it can only fail here when it was changed on the way.
  if (!prepared.ok)
    throw new RangeError(`settle: ${prepared.faults.map(({ expected }) => expected).join("; ")}`);
  const { basis: fitted, tables: _same, ...program } = planSettled(asked, prepared.basis);
  parentPort?.postMessage({ ...program, fits: fitted.fits } satisfies Settled);
});
