import { parentPort } from "node:worker_threads";
import { findTexts } from "../commands/city-text.ts";
import type { BesideDone, BesideJob } from "../commands/plan-in-threads.ts";
import { prepareBasis } from "../commands/prepare-basis.ts";
import { type InspectionsAhead, readInspectionsAhead } from "../intake/inspections-ahead.ts";
import { valueWords } from "../reference/value-words.ts";
import { readRecord } from "../season/city-record.ts";
import { blockageFits } from "../season/fits.ts";
import { planBlocks } from "../season/plan-blocks.ts";
import { rankLaterals } from "../season/rank.ts";

/** Works beside the main thread on a big city: reads inspection files, plans blocks of rows until none are left, ranks. */
async function work(job: BesideJob): Promise<BesideDone> {
  switch (job.kind) {
    case "read inspections": {
      const parts: InspectionsAhead[] = [];
      const texts = await findTexts(job.folder, job.files);
      for (const file of job.files) {
        const reading = { words: valueWords, ownWords: job.ownWords, bytes: texts.sizeOf(file) };
        parts.push(await readInspectionsAhead(texts.textOf(file), file, reading));
      }
      return { kind: "read inspections", parts };
    }
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
    case "fit blockages":
      return { kind: "fit blockages", fits: blockageFits(job.rows, job.basis) };
    case "rank":
      return { kind: "rank", ranking: rankLaterals(job.laterals) };
    default:
      return job satisfies never;
  }
}

parentPort?.on("message", async (job: BesideJob) => {
  parentPort?.postMessage(await work(job));
});
