import { lstat, realpath } from "node:fs/promises";
import { join, relative, sep } from "node:path";
import type { Problem } from "../quantity/problem.ts";

export const SETTINGS_FILE = "program.json";
export const DECISIONS_FILE = "decisions.csv";
export const LOCK_FILE = ".wyeplan-lock";

/** What a city's file may be called: a path inside the program folder, with / between its parts. */
export const FILE_NAME_EXPECTED = "the name of a file inside the program folder, such as laterals.csv";

/** Whether a name can only mean a file inside the program folder, and none of the program's own. */
export function isFileName(name: string): boolean {
  if (name.trim() !== name || /[\p{Cc}\\]|^[A-Za-z]:|^\//u.test(name)) return false;
  if (name.split("/").some((part) => part === "" || part === "." || part === "..")) return false;
  return ![SETTINGS_FILE, DECISIONS_FILE, LOCK_FILE].includes(name.toLowerCase());
}

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
    return refused("no such file", `a file in ${folder}`, "Put the file there, or correct its name.");
  }
  const within = relative(home, path);
  if (within === ".." || within.startsWith(`..${sep}`) || join(home, within) !== path) {
    return refused("a link that leads out of the folder", FILE_NAME_EXPECTED, "Put the file itself there.");
  }
  if (!(await lstat(path)).isFile()) return refused("not a file", "a file", "Put the file there.");
  return { ok: true, path };
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

/** Whether the disk answered that there is no such file or folder. */
export const isMissing = (error: unknown): boolean => ["ENOENT", "ENOTDIR"].includes(errorCode(error));

/** The system's code of a failed call (`ENOENT`); empty for any other error. */
export const errorCode = (error: unknown): string =>
  error instanceof Error && "code" in error ? String(error.code) : "";
