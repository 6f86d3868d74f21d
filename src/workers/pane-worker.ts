import { parentPort } from "node:worker_threads";
import { workOnPane } from "../commands/pane-work.ts";
import { prepareBasis } from "../commands/prepare-basis.ts";
import type { PaneJob } from "../commands/thread-work.ts";

/** Works out what a pane of the sheet shows, in a thread of its own, once. */
parentPort?.once("message", async ({ asked, program }: PaneJob) => {
  const prepared = await prepareBasis(program.basis);
  // The recipe was compiled before; it can only fail here when it was changed on the way.
  if (!prepared.ok)
    throw new RangeError(`pane-worker: ${prepared.faults.map(({ expected }) => expected).join("; ")}`);
  const basis = { ...prepared.basis, fits: program.basis.fits };
  parentPort?.postMessage(await workOnPane(asked, { ...program, basis }));
});
