import type { Stats } from "node:fs";
import { type FileHandle, open, readdir, rename, rm, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { isMissing, namedByPlace } from "./program-files.ts";
import { isRunning } from "./running.ts";

/** Bytes, text, or somebody who writes them into the open file. */
export type Content = string | Uint8Array | ((file: FileHandle) => Promise<void>);

let written = 0;

/**
 * Puts a whole file in place so that a kill at any moment leaves the old one or the new one: written beside it,
 * synced, renamed over it, and the folder synced. The mode of an old file is kept. A link is replaced, not
 * followed: pass the real path. What is no file, a device or a pipe, is written into: a file put in the place of
 * `/dev/null` would harm the whole machine.
 */
export async function writeAtomically(path: string, content: Content): Promise<void> {
  const standing = await statsOf(path);
  if (standing !== null && !standing.isFile() && !standing.isDirectory()) return writeInto(path, content);
  await removeLeftovers(path);
  const part = join(dirname(path), `.${basename(path)}.${process.pid}-${++written}.part`);
  try {
    const file = await open(part, "wx", 0o666);
    try {
      if (standing !== null) await file.chmod(standing.mode & 0o7777);
      await put(file, content);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(part, path);
  } catch (error) {
    // What went wrong first is what is said.
    await rm(part, { force: true }).catch(() => undefined);
    throw namedByPlace(error, part, path);
  }
  await syncFolder(dirname(path));
}

async function writeInto(path: string, content: Content): Promise<void> {
  const file = await open(path, "w");
  try {
    await put(file, content);
  } finally {
    await file.close();
  }
}

async function put(file: FileHandle, content: Content): Promise<void> {
  if (typeof content === "function") await content(file);
  else await file.writeFile(content);
}

/** Makes a name in a folder (a new file, a rename) survive a power failure. Windows has no such call. */
export async function syncFolder(folder: string): Promise<void> {
  if (process.platform === "win32") return;
  const handle = await open(folder, "r");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** Removes what a killed writer of this file left behind; a running writer's part is left alone. */
async function removeLeftovers(path: string): Promise<void> {
  const start = `.${basename(path)}.`;
  for (const name of await readdir(dirname(path))) {
    if (!name.startsWith(start)) continue;
    const pid = /^(\d+)-\d+\.part$/.exec(name.slice(start.length))?.[1];
    if (pid !== undefined && !isRunning(Number(pid))) await rm(join(dirname(path), name), { force: true });
  }
}

async function statsOf(path: string): Promise<Stats | null> {
  try {
    return await stat(path);
  } catch (error) {
    if (isMissing(error)) return null;
    throw error;
  }
}
