import { parentPort } from "node:worker_threads";
import { findTexts } from "../commands/city-text.ts";
import type { BesideDone, BesideJob } from "../commands/plan-thread.ts";
import { type InspectionsAhead, readInspectionsAhead } from "../intake/inspections-ahead.ts";
import { valueWords } from "../reference/value-words.ts";

/** Reads inspection files while the main thread reads the laterals. */
async function readFiles(
  job: Extract<BesideJob, { readonly kind: "read inspections" }>,
): Promise<BesideDone> {
  const parts: InspectionsAhead[] = [];
  const texts = await findTexts(job.folder, job.files);
  for (const file of job.files) {
    const reading = { words: valueWords, ownWords: job.ownWords, bytes: texts.sizeOf(file) };
    parts.push(await readInspectionsAhead(texts.textOf(file), file, reading));
  }
  return { kind: "read inspections", parts };
}

/** The rest of this thread's work needs four times the code of reading, which is therefore loaded when the first file has been read. */
const planJobs = () => import("./plan-jobs.ts");

parentPort?.on("message", async (job: BesideJob) => {
  if (job.kind !== "read inspections") {
    const { doJob } = await planJobs();
    parentPort?.postMessage(await doJob(job));
    return;
  }
  parentPort?.postMessage(await readFiles(job));
  // While the main thread places what was read here.
  const { preparedOf } = await planJobs();
  await preparedOf(job.basis);
});
