import { type ColumnKey, findColumn } from "../columns/dictionary.ts";
import { programHead } from "../program/basis-for-settings.ts";
import { type Appended, appendChangeSet, type Change } from "../program/decision-log.ts";
import { AS_GIVEN } from "../program/decision-value.ts";
import type { DecisionState } from "../program/decisions.ts";
import { type ProgramLock, takeLock } from "../program/lock.ts";
import { readSettings } from "../program/settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import { yearOf } from "../quantity/calendar.ts";
import { describeProblem, type Problem } from "../quantity/problem.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { fitted } from "./wrapped.ts";

/** Adds a change to a program's decisions as its one writer, and says what came of it. */
export async function changeDecisions(
  folder: string,
  change: Change,
  io: CommandIo,
  who: string,
  describe: (done: Extract<Appended, { ok: true }>) => readonly string[],
): Promise<ExitCode> {
  return asOneWriter(folder, io, async (lock, when, settings) => {
    const latestYear = yearOf(programHead(settings).asOf);
    const done = await appendChangeSet(lock, change, { when, who }, latestYear);
    if (!done.ok) {
      for (const sentence of done.because) io.err(`${fitted(sentence, io)}\n`);
      return EXIT.notDone;
    }
    for (const problem of [...done.mended, ...done.after.problems])
      io.err(`${fitted(describeProblem(problem), io)}\n`);
    for (const line of describe(done)) io.out(`${line}\n`);
    return EXIT.done;
  });
}

/** Does the work as the program's one writer, where its settings can be read; the lock is given back however it ends. */
export async function asOneWriter(
  folder: string,
  io: CommandIo,
  work: (lock: ProgramLock, when: string, settings: Settings) => Promise<ExitCode>,
): Promise<ExitCode> {
  const reading = await readSettings(folder);
  if (!reading.ok) return refuse(io, reading.problems);
  const when = io.now();
  const attempt = await takeLock(folder, when);
  if (!attempt.ok) return refuse(io, attempt.problems);
  try {
    return await work(attempt.lock, when, reading.settings);
  } finally {
    await attempt.lock.release();
  }
}

/** Says what is wrong, a line a problem; nothing has been done. */
export function refuse(io: CommandIo, problems: readonly Problem[]): ExitCode {
  for (const problem of problems) io.err(`${fitted(describeProblem(problem), io)}\n`);
  return EXIT.notDone;
}

/** `Lateral 00417, Host dia.: 6 in (decision 4), before: as given.` */
export function describeMove(
  { before, after }: { readonly before: DecisionState; readonly after: DecisionState },
  { lateral, column }: { readonly lateral: string; readonly column: string },
): string {
  const heading = findColumn(column)?.heading ?? column;
  const standing = ({ decisions }: DecisionState) => {
    const decision = decisions.get(lateral)?.get(column as ColumnKey);
    const given = column === "treatment" ? "as planned" : AS_GIVEN;
    return decision === undefined ? given : `${decision.written} (decision ${decision.id})`;
  };
  return `Lateral ${lateral}, ${heading}: ${standing(after)}, before: ${standing(before)}.`;
}
