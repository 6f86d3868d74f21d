import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { fileProblem, type Problem } from "../quantity/problem.ts";
import { writeAtomically } from "./atomic-write.ts";
import { hashOf } from "./content-hash.ts";
import type { ProgramLock } from "./lock.ts";
import { MOST_BYTES, namesInside, ownFolder, readInside } from "./program-files.ts";
import { savedJson } from "./saved-json.ts";
import { misfitOf, type Run, type Snapshot, snapshotSchema } from "./snapshot-schema.ts";

/** Folder of the snapshots inside a program folder. */
export const SNAPSHOTS = "snapshots";

export type SnapshotReading =
  | { readonly ok: true; readonly snapshot: Snapshot }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** The word for the program as it is: a snapshot may not be called so. */
export const NOW = "now";

const NAME_EXPECTED = `letters, digits, spaces, "-", "_" or ".", at most 80, not ${JSON.stringify(NOW)}`;

/** Whether a name can be a snapshot's: it cannot leave the folder, and every system takes it as a file's name. */
export const isSnapshotName = (name: string): boolean =>
  /^[\p{L}\p{N}](?:[\p{L}\p{N} ._-]{0,78}[\p{L}\p{N}])?$/u.test(name) && name.toLowerCase() !== NOW;

const fileOf = (name: string): string => `${SNAPSHOTS}/${name}.json`;

/** The names of a program's snapshots, by code points. */
export const snapshotNames = async (folder: string): Promise<readonly string[]> =>
  (await namesInside(folder, SNAPSHOTS))
    .filter((file) => file.endsWith(".json"))
    .map((file) => file.slice(0, -".json".length))
    .filter(isSnapshotName)
    .sort();

/** A saved run, or why the file is none: anything may stand in it. */
export async function readSnapshot(folder: string, name: string): Promise<SnapshotReading> {
  const refused = (found: string, expected: string, remedy: string): SnapshotReading => ({
    ok: false,
    problems: [fileProblem(fileOf(name), found, expected, remedy)],
  });
  if (!isSnapshotName(name)) return refused(name, `the name of a snapshot: ${NAME_EXPECTED}`, "Correct it.");
  const read = await readInside(folder, fileOf(name), MOST_BYTES.saved);
  if (!read.ok) {
    const names = await snapshotNames(folder);
    const remedy =
      names.length === 0 ? "None is saved yet: wyeplan plan --save NAME." : `Saved are: ${names.join(", ")}.`;
    return refused(read.problem.found, "a saved snapshot", remedy);
  }
  return readSnapshotText(read.bytes.toString("utf8"), fileOf(name));
}

/** The same from the text of the file, without a disk. */
export function readSnapshotText(text: string, file: string): SnapshotReading {
  const damaged = (found: string, expected: string): SnapshotReading => ({
    ok: false,
    problems: [
      fileProblem(file, found, expected, "Take it from a backup, or delete it and save the run again."),
    ],
  });
  const written = savedJson(text, snapshotSchema, "a snapshot");
  if (!written.ok) return damaged(written.found, written.expected);
  const misfit = misfitOf(written.value);
  if (misfit !== null) return damaged("lists that do not fit each other", misfit);
  if (sealOf(written.value) !== written.value.seal)
    return damaged("values that were changed after it was saved", "a snapshot as it was saved");
  return { ok: true, snapshot: written.value };
}

export interface Saved {
  readonly name: string;
  /** False where this run was saved before, under this name. */
  readonly isNew: boolean;
}

/** Saves a run under a name of its own; a name that stands for another run is refused, never overwritten. */
export async function saveSnapshot(
  lock: ProgramLock,
  name: string,
  run: Run,
  saved: Snapshot["saved"],
): Promise<({ readonly ok: true } & Saved) | { readonly ok: false; readonly problems: readonly Problem[] }> {
  const refused = (found: string, expected: string, remedy: string) =>
    ({ ok: false, problems: [fileProblem(fileOf(name), found, expected, remedy)] }) as const;
  if (!isSnapshotName(name)) return refused(name, `a name of ${NAME_EXPECTED}`, "Choose another name.");
  const same = (await snapshotNames(lock.folder)).find((other) => other.toLowerCase() === name.toLowerCase());
  if (same !== undefined) {
    if (await holdsRun(lock.folder, same, run)) return { ok: true, name: same, isNew: false };
    return refused(
      "another run of that name",
      "a new name",
      "A snapshot is never overwritten: choose another name.",
    );
  }
  const own = await ownFolder(lock.folder, SNAPSHOTS);
  if (!own.ok) return { ok: false, problems: [own.problem] };
  await mkdir(own.path, { recursive: true });
  await writeAtomically(join(own.path, `${name}.json`), snapshotText(run, saved));
  return { ok: true, name, isNew: true };
}

/** Saves a run that nobody named: under the name of the snapshot that already holds it, or the next number. */
export async function saveNumbered(
  lock: ProgramLock,
  label: string,
  run: Run,
  saved: Snapshot["saved"],
): Promise<({ readonly ok: true } & Saved) | { readonly ok: false; readonly problems: readonly Problem[] }> {
  const names = await snapshotNames(lock.folder);
  for (const name of names)
    if (await holdsRun(lock.folder, name, run)) return { ok: true, name, isNew: false };
  const last = Math.max(0, ...names.map((name) => Number(/^(\d{1,9})-/.exec(name)?.[1] ?? 0)));
  const plainLabel = label
    .replace(/[^\p{L}\p{N}._-]+/gu, "-")
    .slice(0, 60)
    .replace(/[^\p{L}\p{N}]+$/u, "");
  return saveSnapshot(lock, `${String(last + 1).padStart(3, "0")}-${plainLabel}`, run, saved);
}

/** The file of a run: one line a part, so that two of them can be looked at side by side. */
export function snapshotText(run: Run, saved: Snapshot["saved"]): string {
  const seal = hashOf(JSON.stringify({ saved, ...inOrder(run) }));
  return `{${linesOf({ schema: 1, seal, saved })},\n${runText(run)}`;
}

/** The end of the file, from the first line that is the run's: the same text for the same run. */
const runText = (run: Run): string => `${linesOf(inOrder(run))}}\n`;

const linesOf = (parts: object): string =>
  Object.entries(parts)
    .map(([key, value]) => `${JSON.stringify(key)}:${JSON.stringify(value)}`)
    .join(",\n");

const sealOf = (snapshot: Snapshot): string =>
  hashOf(JSON.stringify({ saved: snapshot.saved, ...inOrder(snapshot) }));

/** Whether a snapshot is of the same inputs, settings and decisions, with the same result. */
async function holdsRun(folder: string, name: string, run: Run): Promise<boolean> {
  const read = await readInside(folder, fileOf(name), MOST_BYTES.saved);
  return read.ok && read.bytes.toString("utf8").endsWith(`\n${runText(run)}`);
}

/** The parts of a run, always in the same order and nothing else. */
const inOrder = ({ as_of, inputs, settings, decisions, ranking, values }: Run): Run => ({
  as_of,
  inputs,
  settings,
  decisions,
  ranking,
  values,
});
