import { basename } from "node:path";
import type { HeaderPlace, InspectionFile } from "../columns/city-file.ts";
import { type InspectionKey, inspectionColumns } from "../columns/lateral-columns.ts";
import { utf8Of } from "../intake/decode.ts";
import { findFormat } from "../intake/file-format.ts";
import { readInspections } from "../intake/inspection-file.ts";
import { indexLaterals } from "../intake/lateral-file.ts";
import { placeForInspections, takeIn } from "../program/added-inspections.ts";
import { asTyped } from "../program/as-typed.ts";
import type { ProgramLock } from "../program/lock.ts";
import { inspectionFile } from "../program/settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import type { Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { headerWords } from "../reference/header-words.ts";
import { valueWords } from "../reference/value-words.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import type { Ask } from "./ask.ts";
import { CannotMake } from "./cannot-make.ts";
import { changeBetweenRuns } from "./change-between-runs.ts";
import { asOneWriter, refuse } from "./change-decisions.ts";
import { chooseWorstGrade } from "./choose-settings.ts";
import { bytesOf } from "./city-text.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { sayComparison } from "./compare.ts";
import { firstBytes } from "./first-bytes.ts";
import { citysWords } from "./gather-city.ts";
import { type Given, readGiven } from "./given-columns.ts";
import { exitCodeOf, loadProgram, sayProblems } from "./load-program.ts";
import { cityFile, mapFile } from "./map-columns.ts";
import { fitted } from "./wrapped.ts";

export interface AddOptions {
  readonly inspections: string;
  readonly worstGrade?: string;
  /** A JSON file with the `inspections` columns that the headings alone do not settle. */
  readonly settings?: string;
}

/** How many problems of a file that cannot be used are said. */
const PROBLEMS_SAID = 10;

/**
 * `wyeplan add FOLDER --inspections FILE`: takes new inspections into the program, byte for byte, replans, and says what
 * moved and why. Content that the program has already changes nothing. Headings that are not certain are asked about;
 * with nobody to ask the lines to write are printed and nothing is changed.
 */
export async function addInspections(
  folder: string,
  options: AddOptions,
  io: CommandIo,
  ask: Ask | null,
): Promise<ExitCode> {
  try {
    return await asOneWriter(folder, io, (lock) => add(lock, folder, options, io, ask));
  } catch (error) {
    if (!(error instanceof CannotMake)) throw error;
    io.err(`${error.message}\n`);
    return EXIT.notDone;
  }
}

async function add(
  lock: ProgramLock,
  folder: string,
  options: AddOptions,
  io: CommandIo,
  ask: Ask | null,
): Promise<ExitCode> {
  const path = options.inspections;
  const sample = await firstBytes(path);
  const before = await loadProgram(folder);
  if (!before.ok) return refuse(io, before.problems);
  const { settings } = before;
  const place = await placeForInspections(lock.folder, settings, path);
  if (!place.ok) return refuse(io, place.problems);
  if (place.kind === "there") {
    io.out(`${path} is already there, as ${place.file}: the same content. Nothing changed.\n`);
    return EXIT.done;
  }
  const mapping = await mapInspections(place.file, sample, settings, options, io, ask);
  if (mapping === null) return EXIT.notDone;
  const unusable = await tryReading(path, mapping, settings, before.program.tables);
  if (unusable !== null) {
    sayProblems(unusable.slice(0, PROBLEMS_SAID), io);
    io.err(
      `Not one survey in ${path} can be used (${showCount(unusable.length)} problems). Nothing changed.\n`,
    );
    return EXIT.notDone;
  }

  const takeItIn = () => takeIn(lock, settings, place.file, path, mapping);
  const step = { command: "add", file: place.file } as const;
  const runs = await changeBetweenRuns(lock, folder, before, step, takeItIn, io);
  if (!runs.ok) return refuse(io, runs.problems);
  const { after } = runs;

  const tally = after.program.tallies.find(({ file }) => file === place.file);
  if (tally === undefined) throw new Error(`addInspections: ${place.file} has no tally`);
  const { read, kept, duplicates, rejected } = tally;
  io.out(
    `${fitted(`Added ${place.file}: ${showCount(read)} rows read = ${showCount(kept)} kept + ${showCount(duplicates)} duplicates + ${showCount(rejected)} rejected`, io)}\n` +
      `${fitted(`Take it out again: wyeplan remove ${asTyped(folder)} --inspections ${asTyped(basename(place.file))}`, io)}\n\n`,
  );
  const said = await sayComparison(runs.before, after, null, {}, io);
  return said === EXIT.done ? exitCodeOf({ problems: problemsOf(after.program.problems, place.file) }) : said;
}

const problemsOf = (problems: readonly Problem[], file: string) => problems.filter((of) => of.file === file);

/** How the file is read; null when a person must say and nobody can be asked. */
async function mapInspections(
  file: string,
  sample: Uint8Array,
  settings: Settings,
  options: AddOptions,
  io: CommandIo,
  ask: Ask | null,
): Promise<InspectionFile | null> {
  const format = findFormat(sample, settings.units);
  const first = inspectionFile(settings);
  const said = options.settings === undefined ? {} : await readGiven(options.settings);
  const given: Given = { inspections: { ...settledBefore(first, format.headings, io), ...said.inspections } };
  const ways = { units: settings.units, given, io, ask };
  const mapped = await mapFile("inspections", format, inspectionColumns, headerWords.inspections, ways);
  if (mapped.unsettled) {
    const lines = { inspections: mapped.toWrite };
    io.err(
      "Nothing changed. Save these lines as columns.json, corrected (what is ? is to be chosen; a column that the\n" +
        `file does not have is null), and give them with --settings columns.json:\n${JSON.stringify(lines, null, 2)}\n`,
    );
    return null;
  }
  const known = options.worstGrade === undefined && first !== null;
  const worstGrade = known ? first.worstGrade : chooseWorstGrade(options.worstGrade, true, io);
  if (known)
    io.err(`Grades are read as in ${first.file}: ${worstGrade} is worst; --worst-grade says otherwise.\n`);
  return { ...cityFile(file, format, mapped.places), file, worstGrade };
}

type Places = Partial<Record<InspectionKey, HeaderPlace | null>>;

/**
 * What the program's settings say of its first inspection file, where the new one has the same headings: with all of
 * them it is the same export and its map is taken whole, with some of them those columns are settled.
 */
function settledBefore(first: InspectionFile | null, headings: readonly string[], io: CommandIo): Places {
  if (first === null) return {};
  const mapped = Object.entries(first.columns) as [InspectionKey, HeaderPlace][];
  const shared = mapped.filter(([, { heading }]) => headings.includes(heading));
  const places: Places = Object.fromEntries(shared);
  if (shared.length < mapped.length) return places;
  io.err(`The headings are those of ${first.file}: read with its columns.\n`);
  for (const { key } of inspectionColumns) if (!(key in places)) places[key] = null;
  return places;
}

/** The problems of a file in which nothing can be used; null for one that can be. Nothing is written. */
async function tryReading(
  path: string,
  mapping: InspectionFile,
  settings: Settings,
  tables: ProgramTables,
): Promise<readonly Problem[] | null> {
  const text = utf8Of(bytesOf(path), mapping.encoding);
  const reading = { words: valueWords, ownWords: citysWords(settings) };
  const { table, problems } = await readInspections(text, mapping, reading, indexLaterals(tables.laterals));
  return table.rows > 0 ? null : problems;
}
