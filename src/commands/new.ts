import { open } from "node:fs/promises";
import { basename, resolve } from "node:path";
import type { CityFile, HeaderPlace } from "../columns/city-file.ts";
import type { Column } from "../columns/column.ts";
import {
  type InspectionKey,
  inspectionColumns,
  type LateralKey,
  lateralColumns,
  type ObservationKey,
  observationColumns,
} from "../columns/lateral-columns.ts";
import { type FileFormat, findFormat } from "../intake/file-format.ts";
import { certainPlaces, type HeadingMatch, matchHeadings, placeOnly } from "../intake/heading-match.ts";
import {
  type FilePart,
  linesForAssumedUnits,
  linesForUncertain,
  placeToSettle,
  type WrittenPlace,
} from "../intake/match-lines.ts";
import { noGrades } from "../intake/no-grades.ts";
import { asTyped } from "../program/as-typed.ts";
import { scanJson } from "../program/json-places.ts";
import { makeProgram } from "../program/new-program.ts";
import { MOST_BYTES, readAtMost } from "../program/program-files.ts";
import { dayFromIso } from "../quantity/calendar.ts";
import type { UnitSystem } from "../quantity/measure.ts";
import { describeProblem } from "../quantity/problem.ts";
import type { Day } from "../quantity/si.ts";
import { unitWritten } from "../quantity/units.ts";
import { type HeadingWords, headerWords } from "../reference/header-words.ts";
import type { Ask } from "./ask.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { describeDiskError } from "./disk-error.ts";
import { sayProblems } from "./load-program.ts";
import { fitted } from "./wrapped.ts";

export interface NewOptions {
  readonly laterals: string;
  readonly inspections?: string;
  readonly observations?: string;
  readonly name?: string;
  readonly asOf?: string;
  readonly units?: string;
  readonly currency?: string;
  readonly worstGrade?: string;
  /** A JSON file with the `laterals`, `inspections` and `observations` columns that the headings alone do not settle. */
  readonly settings?: string;
}

/** Something typed that keeps the program from being made, for people. */
export class CannotMake extends Error {}

const GRADES_NOTE =
  'Grades are read as 5 = worst. Some countries grade the other way: then --worst-grade 1 or 0, or "worst_grade" in the settings.';

/** First bytes of a file that its form is found from. */
const SAMPLE_BYTES = 65_536;

/**
 * `wyeplan new FOLDER --laterals F [--inspections F [--observations F]]`: makes a program of a city's files. Headings
 * that are not certain are asked about; with nobody to ask (`ask` null) the lines to write are printed and nothing is made. What the
 * headings do not give is said, because a plan may hang on it.
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
    io.err(`${fitted(error.message, io)}\n`);
    return EXIT.notDone;
  }
}

async function make(folder: string, options: NewOptions, io: CommandIo, ask: Ask | null): Promise<ExitCode> {
  const asOf = chooseDay(options.asOf, io);
  const given = options.settings === undefined ? {} : await readGiven(options.settings);
  const sample = await firstBytes(options.laterals);
  const units = chooseUnits(options.units, findFormat(sample, "us"), io);
  const lateralFormat = findFormat(sample, units);
  const surveyFormat =
    options.inspections === undefined ? null : findFormat(await firstBytes(options.inspections), units);
  const worstGrade = chooseWorstGrade(options.worstGrade, surveyFormat !== null, io);

  const ways = { units, given, io, ask };
  const laterals = await mapFile("laterals", lateralFormat, lateralColumns, headerWords.laterals, ways);
  const inspections =
    surveyFormat === null
      ? null
      : await mapFile("inspections", surveyFormat, inspectionColumns, headerWords.inspections, ways);
  if (options.observations !== undefined && surveyFormat === null)
    throw new CannotMake("--observations: the surveys they are of are missing; give --inspections too.");
  const seenFormat =
    options.observations === undefined ? null : findFormat(await firstBytes(options.observations), units);
  const observations =
    seenFormat === null
      ? null
      : await mapFile("observations", seenFormat, observationColumns, headerWords.observations, ways);
  if (laterals.unsettled || inspections?.unsettled || observations?.unsettled) {
    const file = {
      laterals: { columns: laterals.toWrite },
      ...(inspections === null ? {} : { inspections: { columns: inspections.toWrite } }),
      ...(observations === null ? {} : { observations: { columns: observations.toWrite } }),
    };
    io.err(
      "Nothing was made. Save these lines as columns.json, corrected (what is ? is to be chosen; a column that the\n" +
        `file does not have is null), and give them with --settings columns.json:\n${JSON.stringify(file, null, 2)}\n`,
    );
    return EXIT.notDone;
  }

  const made = await makeProgram({
    folder,
    head: {
      name: options.name ?? basename(resolve(folder)),
      asOf,
      units,
      currency: options.currency ?? (units === "us" ? "USD" : "EUR"),
    },
    laterals: { path: options.laterals, mapping: cityFile(options.laterals, lateralFormat, laterals.places) },
    inspections:
      options.inspections === undefined || surveyFormat === null || inspections === null
        ? null
        : {
            path: options.inspections,
            mapping: { ...cityFile(options.inspections, surveyFormat, inspections.places), worstGrade },
          },
    observations:
      options.observations === undefined || seenFormat === null || observations === null
        ? null
        : {
            path: options.observations,
            mapping: { ...cityFile(options.observations, seenFormat, observations.places), worstGrade },
          },
  });
  if (!made.ok) {
    sayProblems(made.problems, io);
    return EXIT.notDone;
  }
  if (laterals.places.cross_bore === undefined)
    io.err(
      `${fitted('No heading says which laterals are cleared of gas cross-bores: none will be cut or lined. If one does, write under laterals, columns in program.json "cross_bore": { "heading": "…" }.', io)}\n`,
    );
  if (options.inspections !== undefined && surveyFormat !== null && inspections !== null) {
    const file = { file: basename(options.inspections), columns: inspections.places };
    const seen = observations === null ? null : { columns: observations.places };
    const graded = noGrades(file, seen, freeHeadings(surveyFormat, inspections.places));
    if (graded !== null) sayProblems([graded], io);
  }
  io.out(
    `Made ${folder}. Its settings are in ${folder}/program.json: look at the columns there.\n` +
      `No unit prices yet: add "unit_prices" to the settings to see costs.\n` +
      `Next: wyeplan check ${asTyped(folder)}, then wyeplan plan ${asTyped(folder)}; wyeplan ${asTyped(folder)} opens the sheet\n`,
  );
  return EXIT.done;
}

export type Places<Key extends string> = Partial<Record<Key, HeaderPlace>>;

/** How the columns of both files are found. */
interface Ways {
  readonly units: UnitSystem;
  readonly given: Given;
  readonly io: CommandIo;
  readonly ask: Ask | null;
}

interface Mapped<Key extends string> {
  readonly places: Places<Key>;
  /** A person must say where some column is, and nobody can be asked. */
  readonly unsettled: boolean;
  /** What was given and what must still be said, as the `columns` of a settings file. */
  readonly toWrite: Readonly<Record<string, WrittenPlace | null>>;
}

/** Where each column stands in the file. */
export async function mapFile<Key extends string>(
  part: FilePart,
  format: FileFormat,
  columns: readonly (Column & { readonly key: Key })[],
  words: Readonly<Record<string, HeadingWords>>,
  { units, given, io, ask }: Ways,
): Promise<Mapped<Key>> {
  for (const note of format.notes) io.err(`${fitted(`${part}: ${note}`, io)}\n`);
  if (format.headingRow === null)
    throw new CannotMake(`${part}: no row of headings in the first rows of the file.`);
  const settled = given[part] ?? {};
  const free = matchHeadings(format.headings, columns, words, units).filter(({ key }) => !(key in settled));
  const places: Places<Key> = certainPlaces(free);
  for (const [key, place] of Object.entries(settled)) {
    if (!columns.some((column) => column.key === key))
      throw new CannotMake(`--settings: ${part} has no column ${JSON.stringify(key)}.`);
    if (place === null) continue;
    if (!format.headings.includes(place.heading))
      throw new CannotMake(
        `--settings: ${key} is at ${JSON.stringify(place.heading)}, which is no heading of ${part}. Headings found: ${format.headings.join(", ")}.`,
      );
    places[key as Key] = place;
  }

  const matches = free.map((match) => neededAnyway(match, columns, format, places, ask !== null));
  const uncertain = matches.filter((match) => match.kind === "uncertain");
  if (uncertain.length > 0 && ask === null) {
    for (const line of linesForUncertain(part, matches, columns)) io.err(`${line}\n`);
    io.err(`${fitted(`${part}: headings not taken yet: ${freeHeadings(format, places).join(", ")}.`, io)}\n`);
    return { places, unsettled: true, toWrite: { ...settled, ...placesToWrite(uncertain) } };
  }
  for (const match of uncertain) {
    const chosen = ask === null ? null : await askFor(match, columns, format, places, ask);
    if (chosen !== null) places[match.key] = chosen;
  }
  for (const { key, required } of columns) {
    if (required === true && places[key] === undefined)
      throw new CannotMake(`${part}: every row needs "${key}", and no heading is chosen for it.`);
  }
  for (const line of linesForAssumedUnits(part, matches)) io.err(`${line}\n`);
  for (const line of linesForLeftOut(part, format, columns, places, settled)) io.err(`${fitted(line, io)}\n`);
  return { places, unsettled: false, toWrite: settled };
}

/** Without these a plan has next to nothing to say: where somebody can be asked, they are asked for whatever their heading. */
const DECISIVE: ReadonlySet<string> = new Set(["cross_bore", "structural_grade", "om_grade"]);

/**
 * A column that every row needs, or without which nearly all laterals come to the same, is asked for among all headings that are still
 * free, when none looks like it.
 */
function neededAnyway<Key extends string>(
  match: HeadingMatch<Key>,
  columns: readonly (Column & { readonly key: Key })[],
  format: FileFormat,
  places: Places<Key>,
  canAsk: boolean,
): HeadingMatch<Key> {
  const { key } = match;
  const isRequired = columns.find((column) => column.key === key)?.required === true;
  if (match.kind !== "absent" || !(isRequired || (canAsk && DECISIVE.has(key)))) return match;
  const candidates = freeHeadings(format, places).map((heading) => ({ heading }));
  if (candidates.length === 0 && !isRequired) return match;
  if (candidates.length === 0)
    throw new CannotMake(
      `No heading for "${key}", which every row needs. Found: ${format.headings.join(", ")}.`,
    );
  return { kind: "uncertain", key, candidates };
}

/** For each uncertain column its one candidate; `?` where a person must choose. */
const placesToWrite = (uncertain: readonly Extract<HeadingMatch, { kind: "uncertain" }>[]) =>
  Object.fromEntries(
    uncertain.map(({ key, candidates }) => [key, placeToWrite(candidates.map(placeToSettle))]),
  );

function placeToWrite(places: readonly WrittenPlace[]): WrittenPlace {
  const [first, ...others] = places;
  if (first === undefined || others.length === 0) return first ?? { heading: "?" };
  if (first.unit === undefined) return { heading: "?" };
  return { heading: "?", unit: others.every(({ unit }) => unit === first.unit) ? first.unit : "?" };
}

/** Columns of ours that the file does not seem to have, and headings of the file that are not read. */
function linesForLeftOut<Key extends string>(
  part: FilePart,
  format: FileFormat,
  columns: readonly (Column & { readonly key: Key })[],
  places: Places<Key>,
  settled: NonNullable<Given[FilePart]>,
): string[] {
  const absent = columns.filter(({ key }) => places[key] === undefined && !(key in settled));
  const unread = freeHeadings(format, places);
  return [
    ...(absent.length === 0
      ? []
      : [
          `${part}: no heading found for ${absent.map(({ key }) => key).join(", ")}. If one is there under another name, add it to "columns" in program.json.`,
        ]),
    ...(unread.length === 0 ? [] : [`${part}: not used: ${unread.join(", ")}.`]),
  ];
}

function freeHeadings(
  { headings }: FileFormat,
  places: Readonly<Partial<Record<string, HeaderPlace>>>,
): readonly string[] {
  const taken = new Set(Object.values(places).map((place) => place?.heading ?? ""));
  return headings.filter((heading) => !taken.has(heading));
}

/** For a column that every row needs the likely headings come first and all others after them: it stands under one of them. */
async function askFor<Key extends string>(
  match: Extract<HeadingMatch<Key>, { kind: "uncertain" }>,
  columns: readonly Column[],
  format: FileFormat,
  places: Places<Key>,
  ask: Ask,
): Promise<HeaderPlace | null> {
  const column = columns.find(({ key }) => key === match.key);
  const likely = new Set(match.candidates.map(({ heading }) => heading));
  const others = column?.required === true ? freeHeadings(format, places) : [];
  const free = new Set(freeHeadings(format, places));
  const candidates = [
    // One that an earlier answer took is no choice any more.
    ...match.candidates.filter(({ heading }) => free.has(heading)),
    ...others.filter((heading) => !likely.has(heading)).map((heading) => ({ heading })),
  ];
  const choices = candidates.map((candidate) => {
    const at = format.headings.indexOf(candidate.heading);
    const seen = format.sample.map((cells) => cells[at] ?? "").filter((cell) => cell !== "");
    return `${candidate.heading}  (${seen.slice(0, 3).join(", ")})`;
  });
  const chosen = await ask(`Which heading is ${column?.heading ?? match.key}? ${column?.help ?? ""}`, [
    ...choices,
    "none of these",
  ]);
  if (chosen === null) throw new CannotMake("\nStopped; nothing was made.");
  const candidate = candidates[chosen];
  return candidate === undefined ? null : placeOnly(candidate);
}

export function cityFile<Key extends string>(
  path: string,
  format: FileFormat,
  columns: Places<Key>,
): CityFile<Key> {
  const { delimiter, encoding, decimalMark, dateOrder } = format;
  return { file: basename(path), delimiter, encoding, decimalMark, dateOrder, columns };
}

export type Given = Partial<
  Record<FilePart, Readonly<Partial<Record<LateralKey | InspectionKey | ObservationKey, HeaderPlace | null>>>>
>;

export async function readGiven(path: string): Promise<Given> {
  const text = new TextDecoder().decode(await bytesOf(path));
  const scan = scanJson(text);
  if (!scan.ok)
    throw new CannotMake(
      `--settings ${path}, line ${scan.place.line}: found ${JSON.stringify(scan.line)}, expected ${scan.expected}.`,
    );
  const parsed = JSON.parse(text) as Partial<Record<FilePart, { columns?: unknown } | null>> | null;
  const given: Record<string, Record<string, HeaderPlace | null>> = {};
  for (const part of ["laterals", "inspections", "observations"] as const) {
    const columns = parsed?.[part]?.columns;
    if (typeof columns !== "object" || columns === null) continue;
    given[part] = Object.fromEntries(
      Object.entries(columns).map(([key, place]) => [key, placeGiven(path, key, place)]),
    );
  }
  if (Object.keys(given).length === 0)
    throw new CannotMake(
      `--settings ${path}: found no "columns" of "laterals" or "inspections". Write { "laterals": { "columns": { "host_diameter": { "heading": "DIAM" } } } }.`,
    );
  return given as Given;
}

function placeGiven(path: string, key: string, place: unknown): HeaderPlace | null {
  if (place === null) return null;
  const { heading, unit } = place as { heading?: unknown; unit?: unknown };
  if (typeof heading !== "string")
    throw new CannotMake(`--settings ${path}: write "${key}": { "heading": "DIAM" }.`);
  if (unit === undefined) return { heading };
  const known = typeof unit === "string" ? unitWritten(unit) : null;
  if (known === null)
    throw new CannotMake(
      `--settings ${path}: ${key} has the unit ${JSON.stringify(unit)}, expected one such as "in" or "mm".`,
    );
  return { heading, unit: known };
}

export async function firstBytes(path: string): Promise<Uint8Array> {
  const bytes = await bytesOf(path, SAMPLE_BYTES);
  if (bytes.length === 0) throw new CannotMake(`${path}: the file is empty.`);
  if (isSpreadsheet(bytes))
    throw new CannotMake(
      `${path}: a spreadsheet's own file, where CSV is needed. Save the sheet as CSV and name that file.`,
    );
  return bytes;
}

/** How a zip begins, in which spreadsheets are kept, and the compound file of older ones (both from memory). */
const SPREADSHEETS = [
  [0x50, 0x4b, 0x03, 0x04],
  [0xd0, 0xcf, 0x11, 0xe0],
] as const;

const isSpreadsheet = (bytes: Uint8Array): boolean =>
  SPREADSHEETS.some((signature) => signature.every((byte, i) => bytes[i] === byte));

/** The file's bytes, from its beginning, as many as are asked for; else all of a file of settings. */
async function bytesOf(path: string, most?: number): Promise<Uint8Array> {
  try {
    if (most === undefined) {
      const read = await readAtMost(path, MOST_BYTES.settings);
      if (!read.ok) throw new CannotMake(describeProblem(read.problem));
      return read.bytes;
    }
    const file = await open(path, "r");
    try {
      const { buffer, bytesRead } = await file.read(new Uint8Array(most), 0, most, 0);
      return buffer.subarray(0, bytesRead);
    } finally {
      await file.close();
    }
  } catch (error) {
    const said = describeDiskError(error);
    if (said === null) throw error;
    throw new CannotMake(said.startsWith(path) ? said : `${path}: ${said}`);
  }
}

/** `Dia_mm`, `Length (m)`, `COVER_M`, `Level (m below ground)`; not `O&M Grade` or `M_ID`. */
const NAMES_METRES = /(^|[^a-z])mm([^a-z]|$)|[([]m\b|[\s_-]m[)\]]?\s*$/i;

function chooseUnits(written: string | undefined, format: FileFormat, io: CommandIo): UnitSystem {
  if (written === "us" || written === "si") return written;
  if (written !== undefined)
    throw new CannotMake(`--units: found ${JSON.stringify(written)}, expected us or si.`);
  const metric = format.decimalMark === "," || format.headings.some((heading) => NAMES_METRES.test(heading));
  const units = metric ? "si" : "us";
  const because =
    format.decimalMark === ","
      ? "decimals have a comma"
      : metric
        ? "a heading names m or mm"
        : "no heading names m or mm";
  io.err(`${fitted(`Units: ${units}, because ${because}; --units us or --units si says otherwise.`, io)}\n`);
  return units;
}

function chooseDay(written: string | undefined, io: CommandIo): Day {
  const text = written ?? io.today?.() ?? io.now().slice(0, 10);
  const found = dayFromIso(text);
  if (found === null)
    throw new CannotMake(`--as-of: found ${JSON.stringify(text)}, expected a day such as 2026-03-01.`);
  if (written === undefined) io.err(`As of ${text}, today; --as-of says otherwise.\n`);
  return found;
}

export function chooseWorstGrade(written: string | undefined, hasGrades: boolean, io: CommandIo): 5 | 1 | 0 {
  if (!hasGrades && written !== undefined)
    throw new CannotMake("--worst-grade is about the grades of --inspections, which is not given.");
  switch (written) {
    case "5":
      return 5;
    case "1":
      return 1;
    case "0":
      return 0;
    case undefined:
      if (!hasGrades) return 5;
      io.err(`${fitted(GRADES_NOTE, io)}\n`);
      return 5;
    default:
      throw new CannotMake(`--worst-grade: found ${JSON.stringify(written)}, expected 5, 1 or 0.`);
  }
}
