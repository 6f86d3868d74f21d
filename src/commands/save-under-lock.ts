import type { ProgramLock } from "../program/lock.ts";
import type { Problem } from "../quantity/problem.ts";
import { asOneWriter, refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT } from "./command-io.ts";

/** What came of saving: what to say of it, or why it could not be. */
export type Saved =
  | { readonly ok: true; readonly said: string }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Whether the program can be written now; says who writes it. What takes long asks before it begins, and takes the lock when it is done. */
export const mayWriteOrSay = async (folder: string, io: CommandIo): Promise<boolean> =>
  (await asOneWriter(folder, io, async () => EXIT.done)) === EXIT.done;

/** Saves as the program's one writer and says so, or says what stands in the way. */
export async function saveUnderLock(
  folder: string,
  io: CommandIo,
  save: (lock: ProgramLock) => Promise<Saved>,
): Promise<boolean> {
  const code = await asOneWriter(folder, io, async (lock) => {
    const saved = await save(lock);
    if (!saved.ok) return refuse(io, saved.problems);
    io.err(`${saved.said}\n`);
    return EXIT.done;
  });
  return code === EXIT.done;
}

/** What came of a save that answers with its problems. */
export const savedAs = (said: string, problems: readonly Problem[]): Saved =>
  problems.length === 0 ? { ok: true, said } : { ok: false, problems };
