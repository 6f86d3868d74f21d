import type { HeaderPlace } from "../columns/city-file.ts";
import type { Column } from "../columns/column.ts";
import { dimensionOf, isQuantity, type UnitSystem, unitShown } from "../quantity/measure.ts";
import { sameDimension, type UnitKey, units, unitWritten } from "../quantity/units.ts";
import type { HeadingWords } from "../reference/header-words.ts";
import { MOST_COLUMNS } from "./city-rows.ts";
import { squashed } from "./headings.ts";

/** A heading that a column may stand under. */
export interface Candidate extends HeaderPlace {
  /** Where the unit comes from: the heading says it, or it is the program's own because the heading says none. */
  readonly unitFrom?: "heading" | "program";
  /** What the heading says and the column cannot be measured in, as people write it: `Length (%)`, `Length (°)`. */
  readonly unfitUnit?: string;
}

export type HeadingMatch<Key extends string = string> =
  | { readonly kind: "certain"; readonly key: Key; readonly place: Candidate }
  | { readonly kind: "uncertain"; readonly key: Key; readonly candidates: readonly Candidate[] }
  | { readonly kind: "absent"; readonly key: Key };

/** How well a heading fits a column, best first. Only the first two can make a match certain. */
const fits = ["sure", "usual", "maybe", "similar"] as const;
type Fit = (typeof fits)[number];

/** What a heading may say its column is measured in; a turn is of none of the units that are converted. */
type HeadingUnit = UnitKey | "degrees";

interface ReadHeading {
  readonly name: string;
  /** Squashed, whole and without the unit at its end. */
  readonly whole: string;
  readonly bare: string;
  readonly words: readonly string[];
  readonly unit: HeadingUnit | null;
  /** The unit that it surely says: a lone letter without brackets may be a name, as in `PIPE_SIZE_A`. */
  readonly plainUnit: HeadingUnit | null;
}

/**
 * Finds our columns among a file's headings. A match is certain when exactly one heading is a `sure` word of the
 * column (or, without any, exactly one `usual` word) and no other column claims it as well; anything else that
 * looks right is uncertain and left to a person.
 *
 * @param headings unique names, as `uniqueHeadings` makes them
 * @param words by column key
 * @param system the program's units, for a heading that names no unit
 */
export function matchHeadings<Key extends string>(
  headings: readonly string[],
  columns: readonly (Column & { readonly key: Key })[],
  words: Readonly<Record<string, HeadingWords>>,
  system: UnitSystem,
): readonly HeadingMatch<Key>[] {
  // What stands beyond is never read; a damaged row of 25,000 headings took 3 s.
  const read = headings.slice(0, MOST_COLUMNS).map(readHeading);
  const claims = columns.map((column) => {
    const wordsOfColumn = words[column.key];
    if (wordsOfColumn === undefined)
      throw new RangeError(`matchHeadings: no heading words for ${column.key}`);
    const byFit = new Map<Fit, ReadHeading[]>(fits.map((fit) => [fit, []]));
    for (const heading of read) {
      const fit = fitOf(heading, column, wordsOfColumn);
      if (fit !== null) byFit.get(fit)?.push(heading);
    }
    const sure = byFit.get("sure") ?? [];
    const usual = byFit.get("usual") ?? [];
    const strongest = sure.length > 0 ? sure : usual;
    return { column, byFit, level: sure.length > 0 ? 0 : 1, strongest };
  });

  // A heading two columns claim equally strongly belongs to neither; the stronger claim wins otherwise.
  const owner = new Map<string, Key>();
  for (const level of [0, 1]) {
    const single = claims.filter((claim) => claim.level === level && claim.strongest.length === 1);
    for (const { column, strongest } of single) {
      const name = strongest[0]?.name ?? "";
      const rivals = single.filter((other) => other.strongest[0]?.name === name);
      if (rivals.length === 1 && !owner.has(name)) owner.set(name, column.key);
    }
  }

  return claims.map(({ column, byFit, strongest }): HeadingMatch<Key> => {
    const { key } = column;
    const only = strongest.length === 1 ? strongest[0] : undefined;
    if (only !== undefined && owner.get(only.name) === key)
      return { kind: "certain", key, place: placeFor(only, column, system) };
    const open = fits.flatMap((fit) => byFit.get(fit) ?? []).filter(({ name }) => !owner.has(name));
    return open.length === 0
      ? { kind: "absent", key }
      : { kind: "uncertain", key, candidates: open.map((heading) => placeFor(heading, column, system)) };
  });
}

/** The certain matches, as the settings' `columns` map. Uncertain ones are not in it. */
export function certainPlaces<Key extends string>(
  matches: readonly HeadingMatch<Key>[],
): Partial<Record<Key, HeaderPlace>> {
  const places: Partial<Record<Key, HeaderPlace>> = {};
  for (const match of matches) if (match.kind === "certain") places[match.key] = placeOnly(match.place);
  return places;
}

/** The place without where its unit came from. */
export const placeOnly = ({ heading, unit }: Candidate): HeaderPlace =>
  unit === undefined ? { heading } : { heading, unit };

function readHeading(name: string): ReadHeading {
  const heading = name.replace(/ \[\d+\]$/, "");
  const words = wordsOf(heading);
  const [, beforeBrackets = "", inBrackets = ""] = /^(.+?)\s*[([]([^()[\]]*)[)\]]\s*$/.exec(heading) ?? [];
  const bracketUnit = unitSaid(inBrackets.trim().replace(/^(in|en)\s+/i, ""));
  const markUnit = NUMERO.test(heading)
    ? null
    : unitSaid(/^[%‰]|[^\p{L}\p{N}\s_()[\]-]+$/u.exec(heading)?.[0] ?? "");
  const lastUnit = markUnit === null && words.length > 1 ? unitSaid(words.at(-1) ?? "") : null;
  // A mark is no word, and says as much as one: `Ovality %`, `DIAM_"`; without it `Length (%)` would be a length.
  const saidByMark = squashed(inBrackets) === "" ? (bracketUnit ?? markUnit) : markUnit;
  const named =
    bracketUnit !== null ? wordsOf(beforeBrackets) : lastUnit === null ? words : words.slice(0, -1);
  const unit = bracketUnit ?? markUnit ?? lastUnit;
  return {
    name,
    whole: squashed(saidByMark === null ? heading : `${heading} ${saidByMark}`),
    bare: (unit !== null && leadToUnit.has(named.at(-1) ?? "") ? named.slice(0, -1) : named).join(""),
    words,
    unit,
    plainUnit: bracketUnit ?? markUnit ?? ((words.at(-1) ?? "").length > 1 ? lastUnit : null),
  };
}

const unitSaid = (text: string): HeadingUnit | null =>
  /^(°|deg\.?|degrees?)$/i.test(text) ? "degrees" : unitWritten(text);

/** `Regard N°` is a number, no turn. */
const NUMERO = /\bn[or]?\s*°$/i;

/** `Länge in m`, `longueur en m`. */
const leadToUnit: ReadonlySet<string> = new Set(["in", "en"]);

/** `InstallDate`, `INSTALL_DATE` and `install date` are two words. */
const wordsOf = (heading: string): string[] =>
  heading
    .replace(/(\p{Ll})(\p{Lu})/gu, "$1 $2")
    .split(/[^\p{L}\p{N}]+/u)
    .map(squashed)
    .filter((word) => word !== "");

function fitOf(heading: ReadHeading, column: Column, words: HeadingWords): Fit | null {
  const names = unitFits(heading.unit, column) ? [heading.whole, heading.bare] : [heading.whole];
  for (const fit of ["sure", "usual", "maybe"] as const)
    if (words[fit].some((word) => names.includes(knownWord(word).squashed))) return fit;
  const known = [...words.sure, ...words.usual];
  return known.some((word) => isSimilar(heading, word)) ? "similar" : null;
}

interface KnownWord {
  readonly squashed: string;
  readonly parts: readonly string[];
}
const knownWords = new Map<string, KnownWord>();

/** A word of our own table, taken apart once and not once a heading: half of the time of a file of many headings. */
function knownWord(word: string): KnownWord {
  let known = knownWords.get(word);
  if (known === undefined) {
    known = { squashed: squashed(word), parts: wordsOf(word) };
    knownWords.set(word, known);
  }
  return known;
}

/** One or two letters off, or the word among others. Short words are too easily alike. */
function isSimilar(heading: ReadHeading, word: string): boolean {
  const { squashed: target, parts } = knownWord(word);
  if (target.length < 5) return false;
  if (parts.every((part) => heading.words.includes(part))) return true;
  return editDistance(heading.bare, target) <= (target.length < 8 ? 1 : 2);
}

function unitFits(unit: HeadingUnit | null, { measure }: Column): boolean {
  if (unit === "degrees") return measure === "degrees" || measure === "coordinate";
  return unit !== null && isQuantity(measure) && sameDimension(units[unit].dimension, dimensionOf(measure));
}

function placeFor({ name, unit, plainUnit }: ReadHeading, column: Column, system: UnitSystem): Candidate {
  if (unit !== null && unit !== "degrees" && unitFits(unit, column))
    return { heading: name, unit, unitFrom: "heading" };
  const shown = unitShown(column.measure, system);
  if (shown === null) return { heading: name };
  if (plainUnit === null) return { heading: name, unit: shown, unitFrom: "program" };
  const unfitUnit = plainUnit === "degrees" ? plainUnit : units[plainUnit].spellings[0] || plainUnit;
  return { heading: name, unit: shown, unitFrom: "program", unfitUnit };
}

/** Letters to insert, drop or replace to make one word of the other (Levenshtein 1965); stops counting at 3. */
function editDistance(a: string, b: string): number {
  if (Math.abs(a.length - b.length) > 2) return 3;
  let previous = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const current = [i];
    for (let j = 1; j <= b.length; j++) {
      const replaced = (previous[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      current.push(Math.min(replaced, (previous[j] ?? 0) + 1, (current[j - 1] ?? 0) + 1));
    }
    previous = current;
  }
  return Math.min(3, previous[b.length] ?? 3);
}
