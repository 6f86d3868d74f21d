import { type ProgramLock, takeLock } from "../program/lock.ts";
import type { Problem } from "../quantity/problem.ts";
import { refuse } from "./change-decisions.ts";
import type { CommandIo } from "./command-io.ts";

/** What came of saving: what to say of it, or why it could not be. */
export type Saved =
  | { readonly ok: true; readonly said: string }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Saves as the program's one writer and says so, or says what stands in the way. */
export async function saveUnderLock(
  folder: string,
  io: CommandIo,
  save: (lock: ProgramLock) => Promise<Saved>,
): Promise<boolean> {
  const attempt = await takeLock(folder, io.now());
  if (!attempt.ok) {
    refuse(io, attempt.problems);
    return false;
  }
  try {
    const saved = await save(attempt.lock);
    if (saved.ok) io.err(`${saved.said}\n`);
    else refuse(io, saved.problems);
    return saved.ok;
  } finally {
    await attempt.lock.release();
  }
}

/** What came of a save that answers with its problems. */
export const savedAs = (said: string, problems: readonly Problem[]): Saved =>
  problems.length === 0 ? { ok: true, said } : { ok: false, problems };
