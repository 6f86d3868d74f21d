import { type ProgramLock, takeLock } from "../program/lock.ts";
import type { Problem } from "../quantity/problem.ts";
import { refuse } from "./change-decisions.ts";
import type { CommandIo } from "./command-io.ts";

/** Saves as the program's one writer and says so, or says what stands in the way. */
export async function saveUnderLock(
  folder: string,
  io: CommandIo,
  save: (lock: ProgramLock) => Promise<readonly Problem[]>,
  done: string,
): Promise<boolean> {
  const attempt = await takeLock(folder, io.now());
  if (!attempt.ok) {
    refuse(io, attempt.problems);
    return false;
  }
  try {
    const problems = await save(attempt.lock);
    if (problems.length > 0) refuse(io, problems);
    else io.err(`${done}\n`);
    return problems.length === 0;
  } finally {
    await attempt.lock.release();
  }
}
