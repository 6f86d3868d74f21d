import { hashOf } from "../program/content-hash.ts";
import { type LockAttempt, type ProgramLock, takeLock } from "../program/lock.ts";
import {
  DECISIONS_FILE,
  errorCode,
  MOST_BYTES,
  readInside,
  SETTINGS_FILE,
} from "../program/program-files.ts";
import type { Problem } from "../quantity/problem.ts";
import type { CommandIo } from "./command-io.ts";
import type { SheetWriter } from "./sheet-edits.ts";

/** What somebody may do in the sheet: decide, or only look, and why. */
export type SheetRights =
  | { readonly kind: "decide"; readonly writer: SheetWriter }
  | {
      readonly kind: "look";
      readonly because: string;
      /** Looks whether that still holds; undefined where nothing can change it while the sheet is open. */
      readonly again?: () => Promise<SheetRights>;
    };

/**
 * The right to write in a program folder, or the words for why there is none. Whoever may only look may look again later: the other
 * wyeplan may have been closed or killed. Then the right is taken if what was read here is still what is written.
 *
 * @param taken told of the lock, for whoever opened the sheet to give back
 */
export async function rightsIn(
  folder: string,
  io: Pick<CommandIo, "who" | "now">,
  taken: (lock: ProgramLock) => void,
): Promise<SheetRights> {
  const attempt = async (isStillSeen: () => Promise<boolean>): Promise<SheetRights> => {
    const tried = await lockToWrite(folder, io.now());
    if (typeof tried === "string") return { kind: "look", because: tried };
    if (!tried.ok) {
      // The program is read after this: what is written by then is what is shown.
      const seen = await writtenIn(folder);
      const again = () => attempt(async () => (await writtenIn(folder)) === seen);
      return { kind: "look", because: describeHolder(tried.problems), again };
    }
    const { lock } = tried;
    if (!(await isStillSeen())) {
      await lock.release();
      return { kind: "look", because: CHANGED_SINCE };
    }
    taken(lock);
    return { kind: "decide", writer: { lock, who: io.who, now: io.now } };
  };
  return attempt(async () => true);
}

const CHANGED_SINCE =
  "Read only. The other wyeplan is gone, but has changed this program since it was opened here: close this sheet and open it again.";

function describeHolder([problem]: readonly Problem[]): string {
  if (problem === undefined) throw new RangeError("describeHolder: refused without a problem");
  return `Read only. Another wyeplan writes here (${problem.found}). ${problem.remedy}`;
}

/** The lock or who has it; words where nobody can write here. */
async function lockToWrite(folder: string, now: string): Promise<LockAttempt | string> {
  try {
    return await takeLock(folder, now);
  } catch (error) {
    switch (errorCode(error)) {
      case "EACCES":
      case "EPERM":
      case "EROFS":
        return "Read only: nothing may be written in this folder.";
      // Not there: reading it says so better.
      case "ENOENT":
      case "ENOTDIR":
        return "Read only: there is no such folder.";
      default:
        throw error;
    }
  }
}

/** A mark of what wyeplan writes of a program: its settings and its decisions. */
async function writtenIn(folder: string): Promise<string> {
  const marks: string[] = [];
  for (const [name, most] of [
    [SETTINGS_FILE, MOST_BYTES.settings],
    [DECISIONS_FILE, MOST_BYTES.decisions],
  ] as const) {
    const read = await readInside(folder, name, most);
    marks.push(read.ok ? hashOf(read.bytes) : read.problem.found);
  }
  return marks.join(" ");
}
