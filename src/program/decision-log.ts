import { open, readdir } from "node:fs/promises";
import { join } from "node:path";
import { describeProblem, type Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { syncFolder, writeAtomically } from "./atomic-write.ts";
import {
  type ChangeSet,
  changeSetLines,
  type NewChange,
  numberedLine,
  readChangeSet,
  type Stamp,
} from "./change-sets.ts";
import { type DecisionLog, emptyLog, readLogBytes } from "./decision-log-text.ts";
import { type DecisionRequest, readDecision } from "./decision-value.ts";
import { type DecisionState, foldDecisions } from "./decisions.ts";
import type { ProgramLock } from "./lock.ts";
import { logHeading, ownForm, writeLine } from "./log-lines.ts";
import { DECISIONS_FILE, errorCode, MOST_BYTES, NO_SUCH_FILE, readInside } from "./program-files.ts";

/** What somebody asks the log to take in. */
export type Change =
  | { readonly kind: "set"; readonly decisions: readonly DecisionRequest[] }
  | { readonly kind: "undo" }
  | { readonly kind: "redo" };

export type Appended =
  | {
      readonly ok: true;
      /** The change set that was written; for an undo or redo, `target` is the one it is about. */
      readonly written: ChangeSet;
      readonly before: DecisionState;
      readonly after: DecisionState;
      /** What was mended on the way: a torn end that was cut off and kept aside. */
      readonly mended: readonly Problem[];
    }
  /** Nothing was written; why, in sentences. */
  | { readonly ok: false; readonly because: readonly string[] };

/** The decisions of a program folder; a program without the file has decided nothing yet. */
export async function readDecisionLog(folder: string): Promise<DecisionLog> {
  const { bytes, problem } = await readBytes(folder);
  return problem === null ? readLogBytes(bytes) : { ...emptyLog, problems: [problem] };
}

/**
 * Adds one change set and syncs it once: after a kill at any moment the whole set counts, or none of it. What an
 * earlier kill left behind the last closed set is first put aside. A damaged log is not written to.
 *
 * @param latestYear as {@link readDecision} takes it
 * @throws RangeError when the stamp is not ISO 8601 in UTC with a name: the command's promise
 */
export async function appendChangeSet(
  lock: ProgramLock,
  change: Change,
  stamp: Stamp,
  latestYear = Number.POSITIVE_INFINITY,
): Promise<Appended> {
  verifyStamp(stamp);
  const { bytes, problem } = await readBytes(lock.folder);
  if (problem !== null) return refused([problem]);
  const log = readLogBytes(bytes);
  const damage = log.problems.filter(({ severity }) => severity === "rejected");
  if (damage.length > 0) return refused(damage);
  const before = foldDecisions(log.sets, latestYear);
  const planned = plan(change, before, latestYear);
  if (!planned.ok) return planned;

  const path = join(lock.folder, DECISIONS_FILE);
  const mended: Problem[] = [];
  if (log.torn) {
    const torn = bytes.subarray(log.keep);
    mended.push(mendedNote(log, torn.length, await keepAside(lock.folder, torn)));
  }
  const form = log.form ?? ownForm;
  const lines = changeSetLines(planned.change, stamp, log.nextId, log.nextSet);
  const start = log.form === null ? logHeading : log.endsLine ? "" : form.newline;
  await append(path, log.keep, start + lines.map((line) => writeLine(line, form)).join(""));

  const firstRow = log.form === null ? 2 : log.rows + 1;
  const written = readChangeSet(lines.flatMap((line, i) => numberedLine(line, firstRow + i) ?? []));
  if (written === null) throw new Error(`appendChangeSet: set ${log.nextSet} does not read back`);
  return { ok: true, written, before, after: foldDecisions([...log.sets, written], latestYear), mended };
}

const refused = (problems: readonly Problem[]) =>
  ({ ok: false, because: problems.map(describeProblem) }) as const;

function plan(
  change: Change,
  state: DecisionState,
  latestYear: number,
): { readonly ok: true; readonly change: NewChange } | Extract<Appended, { ok: false }> {
  if (change.kind !== "set") {
    const target = change.kind === "undo" ? state.undoable : state.redoable;
    if (target !== null) return { ok: true, change: { kind: change.kind, target: target.number } };
    return { ok: false, because: [NOTHING_TO[change.kind]] };
  }
  if (change.decisions.length === 0) throw new RangeError("appendChangeSet: a change set without a decision");
  const because = change.decisions.flatMap((request) => {
    const reading = readDecision(request, null, latestYear);
    if (!reading.ok) return reading.problems.map(describeProblem);
    const { column, value } = reading.decided;
    const standing = state.decisions.get(request.lateral)?.has(column) === true;
    return value === null && !standing
      ? [`Lateral ${request.lateral}, ${column}: nothing is decided there; it is as given already.`]
      : [];
  });
  if (because.length > 0) return { ok: false, because };
  const records = change.decisions.map(({ lateral, column, value, reason }) => ({
    lateral,
    column,
    value: value.trim(),
    reason,
  }));
  return { ok: true, change: { kind: "set", records } };
}

/** Cuts what is not kept, writes, syncs once; a write that fails is cut off again. */
async function append(path: string, keep: number, text: string): Promise<void> {
  const { file, isNew } = await openLog(path);
  try {
    await file.truncate(keep);
    try {
      const bytes = Buffer.from(text, "utf8");
      for (let done = 0; done < bytes.length; ) {
        done += (await file.write(bytes, done, bytes.length - done, keep + done)).bytesWritten;
      }
      await file.sync();
    } catch (error) {
      // If even this fails, the reader finds a set without its closing line and does not count it.
      await file.truncate(keep).catch(() => undefined);
      throw error;
    }
  } finally {
    await file.close();
  }
  if (isNew) await syncFolder(join(path, ".."));
}

async function openLog(path: string) {
  try {
    return { file: await open(path, "r+"), isNew: false };
  } catch (error) {
    if (errorCode(error) !== "ENOENT") throw error;
    return { file: await open(path, "wx+"), isNew: true };
  }
}

/** Puts torn bytes in `decisions.torn-1.csv` or the next free number, unless a kill came after that was done before. */
async function keepAside(folder: string, bytes: Uint8Array): Promise<string> {
  const numbers = (await readdir(folder)).flatMap((name) => {
    const found = /^decisions\.torn-(\d+)\.csv$/.exec(name);
    return found === null ? [] : [Number(found[1])];
  });
  const last = Math.max(0, ...numbers);
  const kept = last > 0 ? await readInside(folder, tornName(last), MOST_BYTES.decisions) : null;
  if (kept?.ok === true && Buffer.compare(kept.bytes, bytes) === 0) return tornName(last);
  await writeAtomically(join(folder, tornName(last + 1)), bytes);
  return tornName(last + 1);
}

const tornName = (number: number): string => `decisions.torn-${number}.csv`;

async function readBytes(
  folder: string,
): Promise<{ readonly bytes: Uint8Array; readonly problem: Problem | null }> {
  const read = await readInside(folder, DECISIONS_FILE, MOST_BYTES.decisions);
  if (read.ok) return { bytes: read.bytes, problem: null };
  const none = read.problem.found === NO_SUCH_FILE;
  return { bytes: new Uint8Array(), problem: none ? null : read.problem };
}

function verifyStamp({ when, who }: Stamp): void {
  if (!/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?Z$/.test(when)) {
    throw new RangeError(`appendChangeSet: ${JSON.stringify(when)} is no time in UTC`);
  }
  if (who.trim() === "") throw new RangeError("appendChangeSet: nobody is named");
}

const mendedNote = (log: DecisionLog, bytes: number, kept: string): Problem => ({
  severity: "noted",
  file: DECISIONS_FILE,
  row: log.rows + 1,
  column: null,
  found: `${showCount(bytes)} bytes of a change that was never finished`,
  expected: "a closing line after each change",
  remedy: `They were cut off and are kept in ${kept}; no finished change was touched.`,
});

const NOTHING_TO = {
  undo: "Nothing to undo: no decision stands.",
  redo: "Nothing to redo: no decision was undone since the last one was made.",
} as const;
