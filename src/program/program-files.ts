import { createReadStream } from "node:fs";
import { lstat, readdir, readFile, realpath, stat } from "node:fs/promises";
import { join, relative, sep } from "node:path";
import { getEnvironmentData, setEnvironmentData } from "node:worker_threads";
import { fileProblem, type Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";

export const SETTINGS_FILE = "program.json";
export const DECISIONS_FILE = "decisions.csv";
export const LOCK_FILE = ".wyeplan-lock";

/** Where a program's outputs go unless the user says otherwise. */
export const OUTPUTS = "outputs";

/** Bytes of the files that are read whole: some ten times what the largest city's have. Text is at most 2²⁹ characters. */
export const MOST_BYTES = {
  settings: 16 << 20,
  decisions: 256 << 20,
  saved: 500_000_000,
  costBook: 16 << 20,
} as const;

/** What a city's file may be called: a path inside the program folder, with / between its parts. */
export const FILE_NAME_EXPECTED = "the name of a file inside the program folder, such as laterals.csv";

/** Whether a name can only mean a file inside the program folder, and none of the program's own. */
export function isFileName(name: string): boolean {
  if (name.trim() !== name || /[\p{Cc}\\]|^[A-Za-z]:|^\//u.test(name)) return false;
  if (name.split("/").some((part) => part === "" || part === "." || part === "..")) return false;
  return ![SETTINGS_FILE, DECISIONS_FILE, LOCK_FILE].includes(name.toLowerCase());
}

/** What is found where no file is. */
export const NO_SUCH_FILE = "no such file";

export type InsideFile =
  | { readonly ok: true; readonly path: string }
  | { readonly ok: false; readonly problem: Problem };

/** The real path of a file of the program, following symbolic links only as long as they stay in the folder. */
export async function fileInside(folder: string, name: string): Promise<InsideFile> {
  const refused = (found: string, expected: string, remedy: string): InsideFile => ({
    ok: false,
    problem: { severity: "rejected", file: name, row: null, column: null, found, expected, remedy },
  });
  let path: string;
  let home: string;
  try {
    home = await realpath(folder);
    path = await realpath(join(home, name));
  } catch (error) {
    if (!isMissing(error)) throw error;
    return refused(NO_SUCH_FILE, `a file in ${folder}`, "Put the file there, or correct its name.");
  }
  if (!isWithin(home, path)) return refused(LEADS_OUT, FILE_NAME_EXPECTED, "Put the file itself there.");
  if (!(await lstat(path)).isFile()) return refused("not a file", "a file", "Put the file there.");
  return { ok: true, path };
}

const LEADS_OUT = "a link that leads out of the folder";

/** Both are real paths. */
function isWithin(home: string, path: string): boolean {
  const within = relative(home, path);
  return within !== ".." && !within.startsWith(`..${sep}`) && join(home, within) === path;
}

/** The folder that the command line names for the city's files. Threads begun later know it too. */
const FILES_FROM = "wyeplan --files-from";

/**
 * From now on the city's files may lie in this folder as well: somebody said so on the command line, which alone can. What program.json
 * says stays the name of a file, and everything the program writes stays in its own folder.
 *
 * @returns why not, where there is no such folder
 */
export async function letCityFilesLieIn(folder: string): Promise<Problem | null> {
  const refused = (found: string) =>
    fileProblem(folder, found, "a folder with files of the city", "Correct the name after --files-from.");
  try {
    const path = await realpath(folder);
    if (!(await lstat(path)).isDirectory()) return refused("not a folder");
    setEnvironmentData(FILES_FROM, path);
    return null;
  } catch (error) {
    if (!isMissing(error)) throw error;
    return refused("no such folder");
  }
}

/**
 * The real path of one of the city's files: in the program folder; else, where the command line names another folder, the file of this
 * name there, or the one in it that a link leads to.
 */
export async function cityFile(folder: string, name: string): Promise<InsideFile> {
  const inside = await fileInside(folder, name);
  if (inside.ok || ![NO_SUCH_FILE, LEADS_OUT].includes(inside.problem.found)) return inside;
  const other = getEnvironmentData(FILES_FROM);
  if (typeof other !== "string") {
    const remedy = `${inside.problem.remedy.slice(0, -1)}, or say on the command line where it lies: --files-from FOLDER.`;
    return { ok: false, problem: { ...inside.problem, remedy } };
  }
  if (inside.problem.found === LEADS_OUT) {
    const path = await realpath(join(folder, name));
    return isWithin(other, path) && (await lstat(path)).isFile() ? { ok: true, path } : inside;
  }
  const there = await fileInside(other, name);
  if (there.ok || there.problem.found !== NO_SUCH_FILE) return there;
  return { ok: false, problem: { ...inside.problem, expected: `a file in ${folder} or in ${other}` } };
}

/** The path of a file that {@link cityFile} found when the settings were read. @throws like the system where it has gone since */
export async function cityFilePath(folder: string, name: string): Promise<string> {
  const inside = await cityFile(folder, name);
  if (inside.ok) return inside.path;
  const gone = { code: "ENOENT", syscall: "open", path: join(folder, name) };
  throw Object.assign(new Error(`${name}: ${inside.problem.found}`), gone);
}

/** The path of one of the program's own folders, which may not be there yet; a link in its place is not followed. */
export async function ownFolder(folder: string, name: string): Promise<InsideFile> {
  const path = join(await realpath(folder), name);
  try {
    if ((await lstat(path)).isDirectory() && (await realpath(path)) === path) return { ok: true, path };
  } catch (error) {
    if (isMissing(error)) return { ok: true, path };
    throw error;
  }
  const found = "something that is not a folder";
  const remedy = "Move it away, or make it a folder.";
  return {
    ok: false,
    problem: {
      severity: "rejected",
      file: name,
      row: null,
      column: null,
      found,
      expected: "a folder",
      remedy,
    },
  };
}

/** A file of the program with its bytes; refused where it leads out of the folder, is no file or is too big. */
export async function readInside(folder: string, name: string, most: number): Promise<ReadFile> {
  const inside = await fileInside(folder, name);
  return inside.ok ? readAtMost(inside.path, most, name) : inside;
}

export type ReadFile =
  | { readonly ok: true; readonly bytes: Buffer; readonly path: string }
  | { readonly ok: false; readonly problem: Problem };

/** The bytes of a file that is read whole, unless it has more of them than such a file ever has. */
export async function readAtMost(path: string, most: number, name = path): Promise<ReadFile> {
  const refused = (found: string): ReadFile => {
    const remedy = "It was not read. Put the right file there.";
    return { ok: false, problem: fileProblem(name, found, `at most ${showCount(most)} bytes`, remedy) };
  };
  const found = await stat(path);
  if (found.size > most && !found.isDirectory()) return refused(`${showCount(found.size)} bytes`);
  if (found.isDirectory())
    return {
      ok: false,
      problem: fileProblem(name, "a folder", "a file", "Name or put there the file that is meant."),
    };
  if (found.isFile()) return { ok: true, bytes: await readFile(path), path };
  // A pipe or a device does not tell how much will come, and may never end.
  const chunks: Buffer[] = [];
  let length = 0;
  for await (const chunk of createReadStream(path)) {
    length += (chunk as Buffer).length;
    if (length > most) return refused(`more than ${showCount(most)} bytes`);
    chunks.push(chunk as Buffer);
  }
  return { ok: true, bytes: Buffer.concat(chunks), path };
}

/** What one of the program's own folders holds, unsorted; nothing where it is not there, or a link stands in its place. */
export async function namesInside(folder: string, name: string): Promise<readonly string[]> {
  const own = await ownFolder(folder, name);
  if (!own.ok) return [];
  try {
    return await readdir(own.path);
  } catch (error) {
    if (isMissing(error)) return [];
    throw error;
  }
}

/** Whether the disk answered that there is no such file or folder. */
export const isMissing = (error: unknown): boolean => ["ENOENT", "ENOTDIR"].includes(errorCode(error));

/**
 * An error of the disk with the name that people know: what is written beside its place has a name of its own, and is gone when they look.
 * A write into an open file names none.
 *
 * @param beside how the path begins of what is written beside it
 */
export function namedByPlace(error: unknown, beside: string, place: string): unknown {
  if (!(error instanceof Error) || !("syscall" in error)) return error;
  const path = "path" in error && typeof error.path === "string" ? error.path : beside;
  return path.startsWith(beside) ? Object.assign(error, { path: place }) : error;
}

/** The system's code of a failed call (`ENOENT`); empty for any other error. */
export const errorCode = (error: unknown): string =>
  error instanceof Error && "code" in error ? String(error.code) : "";
