import {
  constants,
  copyFile,
  mkdir,
  mkdtemp,
  open,
  readdir,
  realpath,
  rename,
  rm,
  writeFile,
} from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import type { CityFile, InspectionFile, LateralFile, ObservationFile } from "../columns/city-file.ts";
import { isoDate } from "../quantity/calendar.ts";
import { fileProblem, type Problem } from "../quantity/problem.ts";
import { units } from "../quantity/units.ts";
import type { ProgramHead } from "../reference/basis.ts";
import { designCriteriaSets } from "../reference/design-criteria.ts";
import { linerSystems } from "../reference/liner-systems.ts";
import { syncFolder } from "./atomic-write.ts";
import { logHeading } from "./log-lines.ts";
import {
  DECISIONS_FILE,
  errorCode,
  FILE_NAME_EXPECTED,
  isFileName,
  isMissing,
  namedByPlace,
  SETTINGS_FILE,
} from "./program-files.ts";
import { checkSettings, settingsText } from "./settings.ts";
import type { Settings } from "./settings-schema.ts";

/** A city's file where it is now, and how it is to be read; the mapping's own `file` is not used. */
export interface SourceFile<Mapping> {
  readonly path: string;
  readonly mapping: Mapping;
}

export interface NewProgram {
  readonly folder: string;
  readonly head: Omit<ProgramHead, "print">;
  readonly laterals: SourceFile<LateralFile>;
  readonly inspections: SourceFile<InspectionFile> | null;
  /** What was seen in the surveys; left out or null when there is no such file. */
  readonly observations?: SourceFile<ObservationFile> | null;
}

export type Made =
  | { readonly ok: true; readonly settings: Settings }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Makes a program folder: the city's files byte for byte under their own names, program.json, and a decisions.csv
 * with nothing decided. It is built beside its place and renamed there, so that a failure or a kill leaves no half
 * of a program. A folder that holds anything is refused.
 */
export async function makeProgram(wanted: NewProgram): Promise<Made> {
  const sources = [wanted.laterals, wanted.inspections, wanted.observations ?? null].filter(
    (source) => source !== null,
  );
  const settings = firstSettings(wanted);
  const problems = [...nameProblems(sources), ...(await sourceProblems(sources))];
  if (problems.length > 0) return { ok: false, problems };
  const reading = checkSettings(settings);
  if (!reading.ok) return reading;
  const folder = resolve(wanted.folder);
  const taken = await folderProblem(folder);
  if (taken !== null) return { ok: false, problems: [taken] };

  const parent = await realpath(dirname(folder));
  const beside = join(parent, `.${basename(folder)}.new-`);
  const building = await mkdtemp(beside).catch((error: unknown) => {
    throw namedByPlace(error, beside, folder);
  });
  try {
    const inside = join(building, "program");
    await mkdir(inside);
    for (const { path } of sources) {
      await copyFile(path, join(inside, basename(path)), constants.COPYFILE_EXCL);
      await syncFile(join(inside, basename(path)));
    }
    await writeFile(join(inside, SETTINGS_FILE), settingsText(reading.settings), { flush: true });
    await writeFile(join(inside, DECISIONS_FILE), logHeading, { flush: true });
    await syncFolder(inside);
    // Renaming over an empty folder replaces it; over one that has been filled meanwhile it fails.
    await rename(inside, folder);
    await syncFolder(parent);
  } catch (error) {
    if (!["ENOTEMPTY", "EEXIST"].includes(errorCode(error))) throw namedByPlace(error, beside, folder);
    return { ok: false, problems: [notEmpty(folder)] };
  } finally {
    await rm(building, { recursive: true, force: true });
  }
  return { ok: true, settings: reading.settings };
}

/** The settings a new program begins with. The design set and liner system are named, so that nobody has to guess. */
function firstSettings({ head, laterals, inspections, observations = null }: NewProgram): Settings {
  const [design] = designCriteriaSets;
  const [system] = linerSystems;
  if (design === undefined || system === undefined)
    throw new Error("firstSettings: an empty reference table");
  return {
    schema: 1,
    name: head.name,
    as_of: isoDate(head.asOf),
    units: head.units,
    currency: head.currency,
    laterals: { ...written(laterals), columns: writtenColumns(laterals.mapping.columns) },
    ...(inspections === null ? {} : { inspections: writtenInspections(inspections) }),
    ...(observations === null
      ? {}
      : {
          observations: {
            ...written(observations),
            columns: writtenColumns(observations.mapping.columns),
            worst_grade: observations.mapping.worstGrade,
          },
        }),
    criteria: { design: design.key, liner_system: system.key },
  };
}

/** How an inspection file is read, as program.json has it. */
export const writtenInspections = (source: SourceFile<InspectionFile>) => ({
  ...written(source),
  columns: writtenColumns(source.mapping.columns),
  worst_grade: source.mapping.worstGrade,
});

const written = <Key extends string>({ path, mapping }: SourceFile<CityFile<Key>>) => ({
  file: basename(path),
  delimiter: mapping.delimiter,
  encoding: mapping.encoding,
  decimal_mark: mapping.decimalMark,
  date_order: mapping.dateOrder,
});

function writtenColumns<Key extends string>(columns: CityFile<Key>["columns"]) {
  const places: Partial<Record<Key, { heading: string; unit?: string }>> = {};
  for (const key of Object.keys(columns) as Key[]) {
    const place = columns[key];
    if (place === undefined) continue;
    const { heading, unit } = place;
    // A plain fraction has no spelling of its own; its key stands for it.
    places[key] = unit === undefined ? { heading } : { heading, unit: units[unit].spellings[0] || unit };
  }
  return places;
}

function nameProblems(sources: readonly SourceFile<unknown>[]): readonly Problem[] {
  const names = sources.map(({ path }) => basename(path));
  const problems = names
    .filter((name) => !isFileName(name))
    .map((name) => fileProblem(name, name, FILE_NAME_EXPECTED, "Give the file another name."));
  const lower = names.map((name) => name.toLowerCase());
  const twice = lower.find((name, i) => lower.indexOf(name) !== i);
  if (twice !== undefined)
    problems.push(
      fileProblem(twice, "the same name twice", "different files", "Give one of them another name."),
    );
  return problems;
}

async function sourceProblems(sources: readonly SourceFile<unknown>[]): Promise<readonly Problem[]> {
  const problems: Problem[] = [];
  for (const { path } of sources) {
    try {
      const file = await open(path, "r");
      const isFile = (await file.stat()).isFile();
      await file.close();
      if (!isFile) problems.push(fileProblem(path, "not a file", "a file", "Name the file itself."));
    } catch (error) {
      problems.push(
        fileProblem(path, errorCode(error), "a file that can be read", "Look at its name and rights."),
      );
    }
  }
  return problems;
}

async function folderProblem(folder: string): Promise<Problem | null> {
  try {
    return (await readdir(folder)).length === 0 ? null : notEmpty(folder);
  } catch (error) {
    if (errorCode(error) === "ENOTDIR") {
      return fileProblem(folder, "a file", "a folder to make", "Name another folder.");
    }
    if (!isMissing(error)) throw error;
  }
  try {
    await readdir(dirname(folder));
    return null;
  } catch (error) {
    if (!isMissing(error)) throw error;
    return fileProblem(
      dirname(folder),
      "no such folder",
      "the folder to make it in",
      "Make that folder first.",
    );
  }
}

async function syncFile(path: string): Promise<void> {
  const file = await open(path, "r");
  try {
    await file.sync();
  } finally {
    await file.close();
  }
}

const notEmpty = (folder: string): Problem =>
  fileProblem(folder, "a folder that is not empty", "a new or empty folder", "Name another folder.");
