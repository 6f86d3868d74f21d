import { parentPort } from "node:worker_threads";
import { prepareBasis } from "../commands/prepare-basis.ts";
import type { SettleAsked, Settled } from "../commands/settle-program.ts";
import { planProgram } from "../season/planned-program.ts";

/** Plans a program anew in a thread of its own and posts what it found, once. */
parentPort?.once("message", async ({ tables, basis, problems, tallies }: SettleAsked) => {
  const prepared = await prepareBasis(basis);
  // The recipe was compiled before; it can only fail here when it was changed on the way.
  if (!prepared.ok)
    throw new RangeError(`settle: ${prepared.faults.map(({ expected }) => expected).join("; ")}`);
  const {
    basis: fitted,
    tables: _same,
    ...program
  } = planProgram(tables, prepared.basis, { problems, tallies });
  parentPort?.postMessage({ ...program, fits: fitted.fits } satisfies Settled);
});
