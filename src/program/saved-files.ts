import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { fileProblem, type Problem } from "../quantity/problem.ts";
import { writeAtomically } from "./atomic-write.ts";
import type { ProgramLock } from "./lock.ts";
import { MOST_BYTES, namesInside, ownFolder, readInside } from "./program-files.ts";
import { isSnapshotName } from "./snapshots.ts";

/** A kind of file that is saved under a name people give: one file each, in a folder of its own. */
export interface SavedKind<T> {
  readonly folder: string;
  /** In words, with its article: `a saved season`. */
  readonly what: string;
  /** What saves the first one. */
  readonly how: string;
  /** Anything may stand in the file. */
  readonly parse: (text: string, file: string) => SavedReading<T>;
}

export type SavedReading<T> =
  | { readonly ok: true; readonly run: T }
  | { readonly ok: false; readonly problems: readonly Problem[] };

const fileOf = ({ folder }: SavedKind<unknown>, name: string): string => `${folder}/${name}.json`;

/** Names by code points. */
export const savedNames = async (
  folder: string,
  { folder: own }: Pick<SavedKind<unknown>, "folder">,
): Promise<readonly string[]> =>
  (await namesInside(folder, own))
    .filter((file) => file.endsWith(".json"))
    .map((file) => file.slice(0, -".json".length))
    .sort();

export async function readSaved<T>(
  folder: string,
  kind: SavedKind<T>,
  name: string,
): Promise<SavedReading<T>> {
  const names = await savedNames(folder, kind);
  if (!isSnapshotName(name) || !names.includes(name)) {
    const remedy = names.length === 0 ? `None is saved yet: ${kind.how}.` : `Saved are: ${names.join(", ")}.`;
    return {
      ok: false,
      problems: [fileProblem(fileOf(kind, name), name, `the name of ${kind.what}`, remedy)],
    };
  }
  const read = await readInside(folder, fileOf(kind, name), MOST_BYTES.saved);
  if (!read.ok) return { ok: false, problems: [read.problem] };
  return kind.parse(read.bytes.toString("utf8"), fileOf(kind, name));
}

/**
 * What keeps a name from being a new one's; none where it can be.
 *
 * @param taken names that other kinds of file have: what is asked for by name must be one thing
 */
export async function nameProblems(
  folder: string,
  kind: Pick<SavedKind<unknown>, "folder" | "what">,
  name: string,
  taken: readonly string[],
): Promise<readonly Problem[]> {
  const refused = (found: string, expected: string, remedy: string) => [
    fileProblem(`${kind.folder}/${name}.json`, found, expected, remedy),
  ];
  if (!isSnapshotName(name))
    return refused(name, 'letters, digits, spaces, "-", "_" or ".", at most 80', "Choose another name.");
  const isTaken = (names: readonly string[]) =>
    names.some((other) => other.toLowerCase() === name.toLowerCase());
  const never = `${kind.what.charAt(0).toUpperCase()}${kind.what.slice(1)} is never overwritten: choose another name.`;
  if (isTaken(await savedNames(folder, kind)))
    return refused(`${kind.what} of that name`, "a new name", never);
  return isTaken(taken) ? refused("something else of that name", "a new name", "Choose another name.") : [];
}

/** Saves under a new name; what stands is never overwritten. */
export async function saveNew<T>(
  lock: ProgramLock,
  kind: SavedKind<T>,
  name: string,
  text: string,
  taken: readonly string[],
): Promise<readonly Problem[]> {
  const problems = await nameProblems(lock.folder, kind, name, taken);
  if (problems.length > 0) return problems;
  const own = await ownFolder(lock.folder, kind.folder);
  if (!own.ok) return [own.problem];
  await mkdir(own.path, { recursive: true });
  await writeAtomically(join(own.path, `${name}.json`), text);
  return [];
}
