import { isDeepStrictEqual } from "node:util";
import type { BesideDone, BesideJob } from "../commands/plan-thread.ts";
import { prepareBasis } from "../commands/prepare-basis.ts";
import type { Basis } from "../reference/basis.ts";
import { readRecord } from "../season/city-record.ts";
import { blockageFits } from "../season/fits.ts";
import { planBlocks } from "../season/plan-blocks.ts";
import { rankLaterals } from "../season/rank.ts";

/** What of the planning of a city the second thread does when its files are read. */
export type PlanJob = Exclude<BesideJob, { readonly kind: "read inspections" }>;

/** The basis prepared last: a thread plans one program. */
let ahead: { readonly basis: Basis; readonly prepared: ReturnType<typeof prepareBasis> } | null = null;

/** The basis, its formulas compiled: some 0.04 s, that the second thread has to spare while the first places what was read, and not later. */
export function preparedOf(basis: Basis): ReturnType<typeof prepareBasis> {
  if (ahead === null || !isDeepStrictEqual(ahead.basis, basis))
    ahead = { basis, prepared: prepareBasis(basis) };
  return ahead.prepared;
}

/** Works on the city's tables beside the main thread: reads its record, fits, plans blocks of rows until none are left, ranks. */
export async function doJob(job: PlanJob): Promise<BesideDone> {
  switch (job.kind) {
    case "read record":
      readRecord(job.tables, job.basis, job.rows);
      return { kind: "read record" };
    case "plan rows": {
      const prepared = await preparedOf(job.basis);
      // The recipe was compiled before; it can only fail here when it was changed on the way.
      if (!prepared.ok)
        throw new RangeError(`plan-rows: ${prepared.faults.map(({ expected }) => expected).join("; ")}`);
      const blocks = planBlocks(job.tables, { ...prepared.basis, fits: job.fits }, job.plan);
      return { kind: "plan rows", blocks };
    }
    case "fit blockages":
      return { kind: "fit blockages", fits: blockageFits(job.rows, job.basis) };
    case "rank":
      return { kind: "rank", ranking: rankLaterals(job.laterals) };
    default:
      return job satisfies never;
  }
}
