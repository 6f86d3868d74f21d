import { basename } from "node:path";
import type { CityFile, HeaderPlace } from "../columns/city-file.ts";
import type { Column } from "../columns/column.ts";
import { MOST_COLUMNS } from "../intake/city-rows.ts";
import type { FileFormat } from "../intake/file-format.ts";
import { certainPlaces, type HeadingMatch, matchHeadings, placeOnly } from "../intake/heading-match.ts";
import {
  type FilePart,
  linesForAssumedUnits,
  linesForUncertain,
  placeToSettle,
  type WrittenPlace,
} from "../intake/match-lines.ts";
import type { UnitSystem } from "../quantity/measure.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { HeadingWords } from "../reference/header-words.ts";
import type { Ask } from "./ask.ts";
import { CannotMake } from "./cannot-make.ts";
import type { CommandIo } from "./command-io.ts";
import type { Given } from "./given-columns.ts";
import { fitted } from "./wrapped.ts";

/** Where columns stand in a file. */
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
  /** What was given and what must still be said, as a settings file has it; beside it the headings to choose from. */
  readonly toWrite: {
    readonly columns: Readonly<Record<string, WrittenPlace | null>>;
    readonly headings_not_taken?: readonly string[];
  };
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
  if (format.headings.length > MOST_COLUMNS)
    throw new CannotMake(
      `${part}: found ${showCount(format.headings.length)} headings in row ${format.headingRow}, expected at most ${showCount(MOST_COLUMNS)}: look whether the separator is ${JSON.stringify(format.delimiter)}, and export the columns that are needed.`,
    );
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
    const notTaken = freeHeadings(format, places);
    io.err(`${fitted(`${part}: headings not taken yet: ${notTaken.join(", ")}.`, io)}\n`);
    const toWrite = { columns: { ...settled, ...placesToWrite(uncertain) }, headings_not_taken: notTaken };
    return { places, unsettled: true, toWrite };
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
  if (part === "laterals")
    for (const line of linesForRepeats(format, places)) io.err(`${fitted(line, io)}\n`);
  return { places, unsettled: false, toWrite: { columns: settled } };
}

/** Of ids hardly any repeats another; fewer rows than these show nothing. Ours, no source. */
const OF_IDS = 0.9;
const ROWS_TO_JUDGE = 10;

/** Under the wrong heading of the ids nearly all laterals pass for repeats of a few, and are left out. */
function linesForRepeats(
  { headings, ownValues, rowsLookedAt }: FileFormat,
  places: Readonly<Partial<Record<string, HeaderPlace>>>,
): readonly string[] {
  const heading = places["lateral"]?.heading;
  const own = heading === undefined ? undefined : ownValues[headings.indexOf(heading)];
  if (own === undefined || own >= OF_IDS || rowsLookedAt < ROWS_TO_JUDGE) return [];
  return [
    `laterals: ${JSON.stringify(heading)} is taken for the ids, and of ${rowsLookedAt} rows only ${Math.round(own * rowsLookedAt)} have one of their own: a row that repeats an id is left out. If the ids are under another heading, make the program anew and say so with --settings.`,
  ];
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
  const free = freeHeadings(format, places);
  const candidates = (isRequired ? mostOwnFirst(free, format) : free).map((heading) => ({ heading }));
  if (candidates.length === 0 && !isRequired) return match;
  if (candidates.length === 0)
    throw new CannotMake(
      `No heading for "${key}", which every row needs. Found: ${format.headings.join(", ")}.`,
    );
  return { kind: "uncertain", key, candidates };
}

/** Ids are under a heading whose values do not repeat. */
function mostOwnFirst(names: readonly string[], { headings, ownValues }: FileFormat): readonly string[] {
  const own = (name: string) => ownValues[headings.indexOf(name)] ?? 0;
  return names.toSorted((a, b) => own(b) - own(a));
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

/** Headings of the file under which none of these columns stands. */
export function freeHeadings(
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
  const others = column?.required === true ? mostOwnFirst(freeHeadings(format, places), format) : [];
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

/** A file as program.json has it. */
export function cityFile<Key extends string>(
  path: string,
  format: FileFormat,
  columns: Places<Key>,
): CityFile<Key> {
  const { delimiter, encoding, decimalMark, dateOrder } = format;
  return { file: basename(path), delimiter, encoding, decimalMark, dateOrder, columns };
}
