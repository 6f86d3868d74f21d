import {
  type FileHandle,
  link,
  lstat,
  open,
  readdir,
  readFile,
  realpath,
  rename,
  rm,
  writeFile,
} from "node:fs/promises";
import { hostname } from "node:os";
import { join } from "node:path";
import * as z from "zod";
import type { Problem } from "../quantity/problem.ts";
import { errorCode, isMissing, LOCK_FILE, namedByPlace } from "./program-files.ts";
import { isRunning } from "./running.ts";

/** Who writes: shown to whoever comes second. */
const holderSchema = z.object({ pid: z.number().int().positive(), host: z.string(), started: z.string() });
export type LockHolder = z.infer<typeof holderSchema>;

const MOST_LOCK_BYTES = 4_096;

type Self = Pick<LockHolder, "pid" | "host">;

/** Proof that this process is the one writer of a program folder; whatever writes asks for it. */
export interface ProgramLock {
  /** Real path of the program folder. */
  readonly folder: string;
  readonly release: () => Promise<void>;
}

export type LockAttempt =
  | { readonly ok: true; readonly lock: ProgramLock }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Folders this process holds, so that a lock with our own number that is not among them is a dead process's.
 * Only the main thread writes programs: a worker has a list of its own.
 */
const heldHere = new Set<string>();

/**
 * Becomes the one writer of a program folder, or says who is. The lock of a process that no longer runs on this
 * machine is taken over; another machine's never is, because nothing here can tell whether it still runs.
 *
 * @param started time of day for people, from the command
 * @throws the system's error, of the folder, when it cannot be written
 */
export async function takeLock(
  folder: string,
  started: string,
  self: Self = { pid: process.pid, host: hostname() },
): Promise<LockAttempt> {
  const home = await realpath(folder);
  const path = join(home, LOCK_FILE);
  const text = `${JSON.stringify({ ...self, started })}\n`;
  if (heldHere.has(home)) return refused(await readHolder(path));
  heldHere.add(home);
  try {
    for (let attempt = 0; attempt < 3; attempt++) {
      if (await putLock(path, text, self)) {
        await removeLeftovers(home, self.host);
        return { ok: true, lock: heldLock(home, path, text) };
      }
      const standing = await readHolder(path);
      if (standing === null) continue;
      const dead =
        standing.holder !== null &&
        standing.holder.host === self.host &&
        (standing.holder.pid === self.pid || !isRunning(standing.holder.pid));
      if (!dead || !(await removeStale(path, standing.text, self))) {
        heldHere.delete(home);
        return refused(standing);
      }
    }
  } catch (error) {
    heldHere.delete(home);
    throw namedByPlace(error, path, folder);
  }
  heldHere.delete(home);
  return refused(await readHolder(path));
}

/** How the names of files beside the lock begin: a process's number means something on its own machine only. */
const besideLock = (path: string, host: string): string => `${path}.${encodeURIComponent(host)}.`;

/** Removes what killed processes of this machine left beside the lock. */
async function removeLeftovers(home: string, host: string): Promise<void> {
  const start = besideLock(LOCK_FILE, host);
  for (const name of await readdir(home)) {
    if (!name.startsWith(start)) continue;
    const pid = /^(\d+)(?:\.stale)?$/.exec(name.slice(start.length))?.[1];
    if (pid !== undefined && !isRunning(Number(pid))) await rm(join(home, name), { force: true });
  }
}

/** Writes the lock beside its place and links it there: it appears whole or not at all, and only if none is there. */
async function putLock(path: string, text: string, self: Self): Promise<boolean> {
  const part = `${besideLock(path, self.host)}${self.pid}`;
  try {
    await writeFile(part, text, { flush: true });
    await link(part, path);
    return true;
  } catch (error) {
    if (errorCode(error) === "EEXIST") return false;
    // Some shared drives have no hard links: made exclusively, then filled.
    if (!["EPERM", "ENOTSUP", "EOPNOTSUPP", "ENOSYS", "EMLINK"].includes(errorCode(error))) throw error;
    return await fillNewLock(path, text);
  } finally {
    // Also where a full disk has taken its name and not its text.
    await rm(part, { force: true });
  }
}

/** Makes the lock in its place, where there was none; one that could not be filled is taken away again. */
async function fillNewLock(path: string, text: string): Promise<boolean> {
  let file: FileHandle;
  try {
    file = await open(path, "wx");
  } catch (error) {
    if (errorCode(error) === "EEXIST") return false;
    throw error;
  }
  try {
    await file.writeFile(text);
    await file.sync();
    return true;
  } catch (error) {
    await rm(path, { force: true });
    throw error;
  } finally {
    await file.close();
  }
}

interface Standing {
  readonly text: string;
  readonly holder: LockHolder | null;
}

async function readHolder(path: string): Promise<Standing | null> {
  try {
    // Anything but a small file is no lock of ours: nothing is read through a link, nor waited for.
    const found = await lstat(path);
    if (!found.isFile() || found.size > MOST_LOCK_BYTES) return { text: "", holder: null };
    const text = await readFile(path, "utf8");
    return { text, holder: parseHolder(text) };
  } catch (error) {
    if (isMissing(error)) return null;
    throw error;
  }
}

function parseHolder(text: string): LockHolder | null {
  try {
    return holderSchema.safeParse(JSON.parse(text)).data ?? null;
  } catch {
    return null;
  }
}

/** Moves a dead process's lock away, unless somebody else has taken it over in the meantime. */
async function removeStale(path: string, stale: string, self: Self): Promise<boolean> {
  const aside = `${besideLock(path, self.host)}${self.pid}.stale`;
  try {
    await rename(path, aside);
  } catch (error) {
    if (isMissing(error)) return true;
    throw error;
  }
  const same = (await readFile(aside, "utf8")) === stale;
  // A new holder came between reading and renaming: its lock goes back.
  if (!same) await link(aside, path).catch(() => undefined);
  await rm(aside, { force: true });
  return same;
}

function heldLock(folder: string, path: string, text: string): ProgramLock {
  return {
    folder,
    release: async () => {
      if (!heldHere.delete(folder)) return;
      if ((await readHolder(path))?.text === text) await rm(path, { force: true });
    },
  };
}

function refused(standing: Standing | null): LockAttempt {
  const holder = standing?.holder ?? null;
  const problem: Problem = {
    severity: "rejected",
    file: LOCK_FILE,
    row: null,
    column: null,
    found:
      holder === null
        ? "a lock that cannot be read"
        : `process ${holder.pid} on ${holder.host}, ${holder.started}`,
    expected: "nobody else writing to this program",
    remedy:
      holder === null
        ? `Try again; if no other wyeplan is open on this folder, delete ${LOCK_FILE}.`
        : `Close the other wyeplan and try again. If ${holder.host} has stopped for good, or its process ${holder.pid} is another program by now, delete ${LOCK_FILE}.`,
  };
  return { ok: false, problems: [problem] };
}
