import type { BesideDone, BesideJob } from "../commands/plan-thread.ts";
import { prepareBasis } from "../commands/prepare-basis.ts";
import { readRecord } from "../season/city-record.ts";
import { planBlocks } from "../season/plan-blocks.ts";
import { rankLaterals, rowsById } from "../season/rank.ts";

/** What of the planning of a city the second thread does when its files are read. */
export type PlanJob = Exclude<BesideJob, { readonly kind: "read inspections" }>;

/** Works on the city's tables beside the main thread: reads its record, plans blocks of rows until none are left, orders, ranks. */
export async function doJob(job: PlanJob): Promise<BesideDone> {
  switch (job.kind) {
    case "read record":
      readRecord(job.tables, job.basis, job.rows);
      return { kind: "read record" };
    case "plan rows": {
      const prepared = await prepareBasis(job.basis);
      // The recipe was compiled before; it can only fail here when it was changed on the way.
      if (!prepared.ok)
        throw new RangeError(`plan-rows: ${prepared.faults.map(({ expected }) => expected).join("; ")}`);
      const blocks = planBlocks(job.tables, { ...prepared.basis, fits: job.fits }, job.plan);
      return { kind: "plan rows", blocks };
    }
    case "order by id":
      return { kind: "order by id", byId: rowsById(job.laterals) };
    case "rank":
      return { kind: "rank", ranking: rankLaterals(job.laterals, job.byId) };
    default:
      return job satisfies never;
  }
}
