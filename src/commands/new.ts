import { open, readFile } from "node:fs/promises";
import { basename, resolve } from "node:path";
import type { CityFile, HeaderPlace } from "../columns/city-file.ts";
import type { Column } from "../columns/column.ts";
import {
  type InspectionKey,
  inspectionColumns,
  type LateralKey,
  lateralColumns,
} from "../columns/lateral-columns.ts";
import { type FileFormat, findFormat } from "../intake/file-format.ts";
import { certainPlaces, type HeadingMatch, matchHeadings, placeOnly } from "../intake/heading-match.ts";
import { type FilePart, linesForAssumedUnits, linesForUncertain } from "../intake/match-lines.ts";
import { makeProgram } from "../program/new-program.ts";
import { dayFromIso } from "../quantity/calendar.ts";
import type { UnitSystem } from "../quantity/measure.ts";
import type { Day } from "../quantity/si.ts";
import { unitWritten } from "../quantity/units.ts";
import { type HeadingWords, headerWords } from "../reference/header-words.ts";
import type { Ask } from "./ask.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { sayProblems } from "./load-program.ts";

export interface NewOptions {
  readonly laterals: string;
  readonly inspections?: string;
  readonly name?: string;
  readonly asOf?: string;
  readonly units?: string;
  readonly currency?: string;
  readonly worstGrade?: string;
  /** A JSON file with the `laterals` and `inspections` columns that the headings alone do not settle. */
  readonly settings?: string;
}

/** Something typed that keeps the program from being made, for people. */
class CannotMake extends Error {}

/** First bytes of a file that its form is found from. */
const SAMPLE_BYTES = 65_536;

/**
 * `wyeplan new FOLDER --laterals F [--inspections F]`: makes a program of a city's files. Headings that are not
 * certain are asked about; with nobody to ask (`ask` null) the lines to write are printed and nothing is made.
 */
export async function newProgram(
  folder: string,
  options: NewOptions,
  io: CommandIo,
  ask: Ask | null,
): Promise<ExitCode> {
  try {
    return await make(folder, options, io, ask);
  } catch (error) {
    if (!(error instanceof CannotMake)) throw error;
    io.err(`${error.message}\n`);
    return EXIT.notDone;
  }
}

async function make(folder: string, options: NewOptions, io: CommandIo, ask: Ask | null): Promise<ExitCode> {
  const given = options.settings === undefined ? {} : await readGiven(options.settings);
  const sample = await firstBytes(options.laterals);
  const units = chooseUnits(options.units, findFormat(sample, "us"), io);
  const lateralFormat = findFormat(sample, units);
  const laterals = await mapFile(
    "laterals",
    lateralFormat,
    lateralColumns,
    headerWords.laterals,
    units,
    given,
    io,
    ask,
  );
  const surveyFormat =
    options.inspections === undefined ? null : findFormat(await firstBytes(options.inspections), units);
  const inspections =
    surveyFormat === null
      ? null
      : await mapFile(
          "inspections",
          surveyFormat,
          inspectionColumns,
          headerWords.inspections,
          units,
          given,
          io,
          ask,
        );
  if (laterals === null || (surveyFormat !== null && inspections === null)) {
    io.err(
      "Nothing was made. Put the right lines into a file, such as columns.json, and give it with --settings columns.json:\n" +
        '  { "laterals": { "columns": { … } }, "inspections": { "columns": { … } } }\n' +
        'A column the file does not have is written "host_diameter": null.\n',
    );
    return EXIT.notDone;
  }

  const made = await makeProgram({
    folder,
    head: {
      name: options.name ?? basename(resolve(folder)),
      asOf: chooseDay(options.asOf, io),
      units,
      currency: options.currency ?? (units === "us" ? "USD" : "EUR"),
    },
    laterals: { path: options.laterals, mapping: cityFile(options.laterals, lateralFormat, laterals) },
    inspections:
      options.inspections === undefined || surveyFormat === null || inspections === null
        ? null
        : {
            path: options.inspections,
            mapping: {
              ...cityFile(options.inspections, surveyFormat, inspections),
              worstGrade: chooseWorstGrade(options.worstGrade, io),
            },
          },
  });
  if (!made.ok) {
    sayProblems(made.problems, io);
    return EXIT.notDone;
  }
  io.out(
    `Made ${folder}. Its settings are in ${folder}/program.json: look at the columns there.\n` +
      `No unit prices yet: add "unit_prices" to the settings to see costs.\n` +
      `Next: wyeplan check ${folder}, then wyeplan plan ${folder}\n`,
  );
  return EXIT.done;
}

type Places<Key extends string> = Partial<Record<Key, HeaderPlace>>;

/** Where each column stands in the file; null when a person must say and nobody can be asked. */
async function mapFile<Key extends string>(
  part: FilePart,
  format: FileFormat,
  columns: readonly (Column & { readonly key: Key })[],
  words: Readonly<Record<string, HeadingWords>>,
  units: UnitSystem,
  given: Given,
  io: CommandIo,
  ask: Ask | null,
): Promise<Places<Key> | null> {
  for (const note of format.notes) io.err(`${part}: ${note}\n`);
  if (format.headingRow === null)
    throw new CannotMake(`${part}: no row of headings in the first rows of the file.`);
  const settled = given[part] ?? {};
  const matches = matchHeadings(format.headings, columns, words, units).filter(
    ({ key }) => !(key in settled),
  );
  const places: Places<Key> = certainPlaces(matches);
  for (const [key, place] of Object.entries(settled)) {
    if (!columns.some((column) => column.key === key))
      throw new CannotMake(`--settings: ${part} has no column ${JSON.stringify(key)}.`);
    if (place !== null) places[key as Key] = place;
  }
  const uncertain = matches.filter((match) => match.kind === "uncertain");
  if (uncertain.length > 0 && ask === null) {
    for (const line of linesForUncertain(part, matches, columns)) io.err(`${line}\n`);
    return null;
  }
  for (const match of uncertain) {
    const chosen = ask === null ? null : await askFor(match, columns, format, ask);
    if (chosen !== null) places[match.key] = chosen;
  }
  for (const { key, required } of columns) {
    if (required === true && places[key] === undefined) {
      throw new CannotMake(
        `${part}: no heading for "${key}", which every row needs. Headings found: ${format.headings.join(", ")}.`,
      );
    }
  }
  for (const line of linesForAssumedUnits(part, matches)) io.err(`${line}\n`);
  return places;
}

async function askFor<Key extends string>(
  match: Extract<HeadingMatch<Key>, { kind: "uncertain" }>,
  columns: readonly Column[],
  format: FileFormat,
  ask: Ask,
): Promise<HeaderPlace | null> {
  const column = columns.find(({ key }) => key === match.key);
  const choices = match.candidates.map((candidate) => {
    const at = format.headings.indexOf(candidate.heading);
    const seen = format.sample.map((cells) => cells[at] ?? "").filter((cell) => cell !== "");
    return `${candidate.heading}  (${seen.slice(0, 3).join(", ")})`;
  });
  const chosen = await ask(`Which heading is ${column?.heading ?? match.key}? ${column?.help ?? ""}`, [
    ...choices,
    "none of these",
  ]);
  const candidate = match.candidates[chosen];
  return candidate === undefined ? null : placeOnly(candidate);
}

function cityFile<Key extends string>(path: string, format: FileFormat, columns: Places<Key>): CityFile<Key> {
  const { delimiter, encoding, decimalMark, dateOrder } = format;
  return { file: basename(path), delimiter, encoding, decimalMark, dateOrder, columns };
}

type Given = Partial<
  Record<FilePart, Readonly<Partial<Record<LateralKey | InspectionKey, HeaderPlace | null>>>>
>;

async function readGiven(path: string): Promise<Given> {
  let parsed: unknown;
  try {
    parsed = JSON.parse(await readFile(path, "utf8"));
  } catch (error) {
    throw new CannotMake(`--settings ${path}: ${error instanceof Error ? error.message : String(error)}.`);
  }
  const given: Record<string, Record<string, HeaderPlace | null>> = {};
  for (const part of ["laterals", "inspections"] as const) {
    const columns =
      (parsed as Record<string, { columns?: Record<string, unknown> } | undefined> | null)?.[part]?.columns ??
      {};
    given[part] = Object.fromEntries(
      Object.entries(columns).map(([key, place]) => [key, placeGiven(path, key, place)]),
    );
  }
  return given as Given;
}

function placeGiven(path: string, key: string, place: unknown): HeaderPlace | null {
  if (place === null) return null;
  const { heading, unit } = place as { heading?: unknown; unit?: unknown };
  if (typeof heading !== "string")
    throw new CannotMake(`--settings ${path}: ${key} needs a heading, { "heading": "DIAM" }.`);
  if (unit === undefined) return { heading };
  const known = typeof unit === "string" ? unitWritten(unit) : null;
  if (known === null)
    throw new CannotMake(
      `--settings ${path}: ${key} has the unit ${JSON.stringify(unit)}, expected one such as "in" or "mm".`,
    );
  return { heading, unit: known };
}

async function firstBytes(path: string): Promise<Uint8Array> {
  try {
    const file = await open(path, "r");
    try {
      const { buffer, bytesRead } = await file.read(new Uint8Array(SAMPLE_BYTES), 0, SAMPLE_BYTES, 0);
      return buffer.subarray(0, bytesRead);
    } finally {
      await file.close();
    }
  } catch (error) {
    throw new CannotMake(
      `${path}: cannot be read (${error instanceof Error ? error.message : String(error)}).`,
    );
  }
}

function chooseUnits(written: string | undefined, format: FileFormat, io: CommandIo): UnitSystem {
  if (written === "us" || written === "si") return written;
  if (written !== undefined)
    throw new CannotMake(`--units: found ${JSON.stringify(written)}, expected us or si.`);
  const metric =
    format.decimalMark === "," ||
    format.headings.some((heading) => /(^|[^a-z])(mm|m)([^a-z]|$)/i.test(heading));
  const units = metric ? "si" : "us";
  io.err(
    `Units: ${units}, from the ${format.decimalMark === "," ? "decimal commas" : "headings"}; --units us or --units si says otherwise.\n`,
  );
  return units;
}

function chooseDay(written: string | undefined, io: CommandIo): Day {
  const text = written ?? io.now().slice(0, 10);
  const found = dayFromIso(text);
  if (found === null)
    throw new CannotMake(`--as-of: found ${JSON.stringify(text)}, expected a day such as 2026-03-01.`);
  if (written === undefined) io.err(`As of ${text}, today; --as-of says otherwise.\n`);
  return found;
}

function chooseWorstGrade(written: string | undefined, io: CommandIo): 5 | 1 | 0 {
  switch (written) {
    case "5":
      return 5;
    case "1":
      return 1;
    case "0":
      return 0;
    case undefined:
      io.err(
        'Grades are read as 5 = worst. Some countries grade the other way: then --worst-grade 1 or 0, or "worst_grade" in the settings.\n',
      );
      return 5;
    default:
      throw new CannotMake(`--worst-grade: found ${JSON.stringify(written)}, expected 5, 1 or 0.`);
  }
}
