import { isDeepStrictEqual } from "node:util";
import type { BesideDone, BesideJob } from "../commands/plan-thread.ts";
import { prepareBasis } from "../commands/prepare-basis.ts";
import type { Basis } from "../reference/basis.ts";
import { readRecord } from "../season/city-record.ts";
import { blockageFits } from "../season/fits.ts";
import type { PreparedBasis } from "../season/own-columns.ts";
import { planBlocks } from "../season/plan-blocks.ts";
import { rankLaterals } from "../season/rank.ts";
import { sumLaterals } from "../season/totals.ts";
import { wordCodesOf } from "../sheet/word-codes.ts";

/** What of the planning of a city the second thread does when its files are read. */
export type PlanJob = Exclude<BesideJob, { readonly kind: "read inspections" }>;

/** The basis prepared last: a thread plans one program. */
let last: { readonly basis: Basis; readonly prepared: Promise<PreparedBasis> } | null = null;

/** The basis, its formulas compiled: some 0.04 s, that the second thread has to spare while the first places what was read, and not later. */
export function preparedOf(basis: Basis): Promise<PreparedBasis> {
  if (last === null || !isDeepStrictEqual(last.basis, basis)) last = { basis, prepared: prepare(basis) };
  return last.prepared;
}

async function prepare(basis: Basis): Promise<PreparedBasis> {
  const prepared = await prepareBasis(basis);
  if (prepared.ok) return prepared.basis;
  // The recipe was compiled before; it can only fail here when it was changed on the way.
  throw new RangeError(`plan-jobs: ${prepared.faults.map(({ expected }) => expected).join("; ")}`);
}

/** Works on the city's tables beside the main thread: reads its record, fits, plans blocks of rows until none are left, ranks or sums. */
export async function doJob(job: PlanJob): Promise<BesideDone> {
  switch (job.kind) {
    case "read record":
      readRecord(job.tables, job.basis, job.rows);
      return { kind: "read record" };
    case "plan rows": {
      const basis = { ...(await preparedOf(job.basis)), fits: job.fits };
      const blocks = planBlocks(job.tables, basis, job.plan);
      return { kind: "plan rows", blocks };
    }
    case "fit blockages":
      return { kind: "fit blockages", fits: blockageFits(job.rows, job.basis) };
    case "rank":
      return { kind: "rank", ranking: rankLaterals(job.laterals) };
    case "sum": {
      const { laterals, materials } = job.written;
      const districts = wordCodesOf(job.laterals, "district");
      return { kind: "sum", sums: sumLaterals(laterals, materials, districts, job.basis) };
    }
    default:
      return job satisfies never;
  }
}
