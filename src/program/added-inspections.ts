import { mkdir, readFile, rename, rm } from "node:fs/promises";
import { basename, dirname, extname, join } from "node:path";
import type { InspectionFile } from "../columns/city-file.ts";
import type { Problem } from "../quantity/problem.ts";
import { syncFolder, writeAtomically } from "./atomic-write.ts";
import { hashFile, hashOf } from "./content-hash.ts";
import type { ProgramLock } from "./lock.ts";
import { writtenInspections } from "./new-program.ts";
import { FILE_NAME_EXPECTED, fileInside, isFileName, NO_SUCH_FILE, ownFolder } from "./program-files.ts";
import { writeSettings } from "./settings.ts";
import type { Settings } from "./settings-schema.ts";

/** Folder of the inspections taken in later, and inside it of those taken out again. */
export const INSPECTIONS = "inspections";
export const REMOVED = `${INSPECTIONS}/removed`;

type Refused = { readonly ok: false; readonly problems: readonly Problem[] };

/** What is to become of a file that somebody adds. */
export type Place =
  /** The program has this content already, under this name. */
  | { readonly ok: true; readonly kind: "there"; readonly file: string }
  | { readonly ok: true; readonly kind: "new"; readonly file: string }
  | Refused;

/** Where these bytes go: by their content, never by their name alone. */
export async function placeForInspections(folder: string, settings: Settings, path: string): Promise<Place> {
  const name = basename(path);
  const file = `${INSPECTIONS}/${name}`;
  if (!isFileName(file)) return refused(name, name, FILE_NAME_EXPECTED, "Give the file another name.");
  const hash = await hashFile(path);
  const first = settings.inspections === undefined ? [] : [settings.inspections];
  const listed = [...first, ...(settings.added_inspections ?? [])].map((of) => of.file);
  for (const other of listed) {
    const inside = await fileInside(folder, other);
    if (inside.ok && (await hashFile(inside.path)) === hash) return { ok: true, kind: "there", file: other };
  }
  const taken = listed.some((other) => other.toLowerCase() === file.toLowerCase());
  const standing = taken ? null : await fileInside(folder, file);
  // A file that is not in the settings is what a kill between the copy and the settings leaves: the same content is taken.
  const free =
    standing !== null &&
    (standing.ok ? (await hashFile(standing.path)) === hash : standing.problem.found === NO_SUCH_FILE);
  if (!free)
    return refused(
      file,
      "a file of that name with other content",
      "a new name",
      `Give the new file another name; if it takes the place of the old one, first wyeplan remove ${folder} --inspections ${name}.`,
    );
  const own = await ownFolder(folder, INSPECTIONS);
  return own.ok ? { ok: true, kind: "new", file } : { ok: false, problems: [own.problem] };
}

/** Copies the file byte for byte into the program, then enters it in the settings: a kill between leaves it unused. */
export async function takeIn(
  lock: ProgramLock,
  settings: Settings,
  file: string,
  path: string,
  mapping: InspectionFile,
): Promise<{ readonly ok: true; readonly settings: Settings } | Refused> {
  const own = await ownFolder(lock.folder, INSPECTIONS);
  if (!own.ok) return { ok: false, problems: [own.problem] };
  const entry = { ...writtenInspections({ path, mapping }), file };
  const after: Settings = { ...settings, added_inspections: [...(settings.added_inspections ?? []), entry] };
  await mkdir(own.path, { recursive: true });
  const bytes = await readFile(path);
  await writeAtomically(join(own.path, basename(file)), bytes);
  const written = await writeSettings(lock, after);
  return written.ok ? { ok: true, settings: after } : written;
}

/** The added file that somebody means, by its path in the program or its name alone; null when there is none. */
export function addedFile(settings: Settings, named: string): string | null {
  const files = (settings.added_inspections ?? []).map(({ file }) => file);
  return files.find((file) => file === named || file === `${INSPECTIONS}/${named}`) ?? null;
}

/** Takes a file out of the settings, then puts it under `inspections/removed/`: nothing of the city's is ever deleted. */
export async function takeOut(
  lock: ProgramLock,
  settings: Settings,
  file: string,
): Promise<{ readonly ok: true; readonly settings: Settings; readonly kept: string } | Refused> {
  const { added_inspections: added = [], ...rest } = settings;
  const left = added.filter((of) => of.file !== file);
  const after: Settings = left.length === 0 ? rest : { ...rest, added_inspections: left };
  const inside = await fileInside(lock.folder, file);
  if (!inside.ok) return { ok: false, problems: [inside.problem] };
  const own = await ownFolder(lock.folder, REMOVED);
  if (!own.ok) return { ok: false, problems: [own.problem] };
  const written = await writeSettings(lock, after);
  if (!written.ok) return written;
  await mkdir(own.path, { recursive: true });
  const bytes = await readFile(inside.path);
  const kept = await freeName(lock.folder, basename(file), bytes);
  if (kept.isThere) await rm(inside.path);
  else await rename(inside.path, join(own.path, basename(kept.file)));
  await syncFolder(own.path);
  await syncFolder(dirname(inside.path));
  return { ok: true, settings: after, kept: kept.file };
}

/** A name under `removed/` that is free or already holds these bytes. */
async function freeName(folder: string, name: string, bytes: Uint8Array) {
  const hash = hashOf(bytes);
  const extension = extname(name);
  const stem = name.slice(0, name.length - extension.length);
  for (const candidate of [name, `${stem}-${hash.slice(0, 12)}${extension}`, `${stem}-${hash}${extension}`]) {
    const file = `${REMOVED}/${candidate}`;
    const standing = await fileInside(folder, file);
    if (!standing.ok && standing.problem.found === NO_SUCH_FILE) return { file, isThere: false };
    if (standing.ok && (await hashFile(standing.path)) === hash) return { file, isThere: true };
  }
  throw new Error(`takeOut: no free name for ${name} in ${REMOVED}`);
}

const refused = (file: string, found: string, expected: string, remedy: string): Refused => ({
  ok: false,
  problems: [{ severity: "rejected", file, row: null, column: null, found, expected, remedy }],
});
