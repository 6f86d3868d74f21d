import type { CityFile, InspectionFile } from "../columns/city-file.ts";
import type { Column } from "../columns/column.ts";
import { dimensionOf, isQuantity } from "../quantity/measure.ts";
import { sameDimension, type UnitKey, units } from "../quantity/units.ts";
import type { ValueWords } from "../reference/value-words.ts";
import { GrowingNumbers, GrowingText, GrowingWords } from "../sheet/grow.ts";
import type { ColumnData } from "../sheet/table.ts";
import type { NumberReading, ProblemList, TextReading } from "./cell-problem.ts";
import { readDate, readYear } from "./date-cell.ts";
import { MissingWords } from "./missing-words.ts";
import { readCoordinate, readCount, readDegrees, readGrade } from "./number-cells.ts";
import { quantityReading } from "./quantity-cell.ts";
import { readQuickRating } from "./text-cells.ts";
import { trimmed } from "./trimmed.ts";
import { type OwnWords, readWord, wordTable } from "./word-cells.ts";

/** Takes the cells of one column, row after row. */
export interface ColumnReader {
  take(cell: string, row: number): void;
  finish(): ColumnData;
}

/** What the readers of a file's columns need to know. */
export interface ReadingRules {
  readonly file: Pick<CityFile<string>, "decimalMark" | "dateOrder">;
  /** Only inspection files have grades. */
  readonly worstGrade?: InspectionFile["worstGrade"];
  readonly words: ValueWords;
  /** The program's own words, by column key. */
  readonly ownWords: Readonly<Record<string, OwnWords>>;
}

const ANY: readonly [number, number] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
const YES_NO = ["yes", "no"];

/**
 * The reader of a column, by its measure: nothing is guessed from the cells. Null, with a problem of the file, when
 * the settings do not say the unit of a quantity.
 *
 * @param heading the column's heading in the file, for problems
 * @param unit unit of a bare number, from the settings
 */
export function columnReader(
  column: Column,
  heading: string,
  unit: UnitKey | undefined,
  rules: ReadingRules,
  problems: ProblemList,
): ColumnReader | null {
  const { measure, range = ANY, key } = column;
  const { decimalMark, dateOrder } = rules.file;
  const missing = new MissingWords(rules.words.missing);
  const numbers = (reading: NumberReading) => new NumberReader(reading, missing, heading, problems);

  if (isQuantity(measure)) {
    if (unit === undefined || !sameDimension(units[unit].dimension, dimensionOf(measure))) {
      problems.add(
        "rejected",
        null,
        heading,
        unit ?? "",
        `the unit of the column "${key}"`,
        `Add "unit" to ${JSON.stringify(key)} in program.json, such as "unit": "${exampleUnit(measure)}". Until then the column is not read.`,
      );
      return null;
    }
    return numbers(quantityReading(measure, unit, decimalMark, range));
  }
  switch (measure) {
    case "year":
      return numbers((text) => readYear(text, dateOrder, range));
    case "date":
      return numbers((text) => readDate(text, dateOrder));
    case "count":
      return numbers((text) => readCount(text, range, decimalMark));
    case "degrees":
      return numbers((text) => readDegrees(text, range, decimalMark));
    case "coordinate":
    case "points":
    case "factor":
    case "days":
      return numbers((text) => readCoordinate(text, decimalMark));
    case "grade": {
      const { worstGrade } = rules;
      if (worstGrade === undefined)
        throw new RangeError(`columnReader: ${key} is a grade, and no worst grade is given`);
      return numbers((text) => readGrade(text, worstGrade, decimalMark));
    }
    case "flag": {
      const table = wordTable(
        key,
        YES_NO,
        { yes: rules.words.yes, no: rules.words.no },
        ownWordsFor(key, YES_NO, heading, rules, problems),
      );
      const read: TextReading = (text) => readWord(text, table, key, YES_NO);
      return new FlagReader(new WordReader(read, YES_NO, missing, heading, problems));
    }
    case "code": {
      const words = column.words ?? [];
      const own = ownWordsFor(key, words, heading, rules, problems);
      const table = wordTable(key, words, rules.words.codes[key] ?? {}, own);
      return new WordReader((text) => readWord(text, table, key, words), words, missing, heading, problems);
    }
    case "text":
      return new TextReader(key.endsWith("_quick") ? readQuickRating : asWritten, missing, heading, problems);
    default:
      return measure satisfies never;
  }
}

const asWritten: TextReading = (text) => text;

const exampleUnit = (measure: Column["measure"]): UnitKey =>
  measure === "diameter" ? "in" : measure === "percent" ? "percent" : "ft";

/** The program's own words that lead somewhere; the others are a problem of the settings. */
function ownWordsFor(
  key: string,
  words: readonly string[],
  heading: string,
  rules: ReadingRules,
  problems: ProblemList,
): OwnWords | undefined {
  const own = Object.entries(Object.hasOwn(rules.ownWords, key) ? (rules.ownWords[key] ?? {}) : {});
  const good = own.filter(([, word]) => word === "" || words.includes(word));
  for (const [written, word] of own) {
    if (word !== "" && !words.includes(word))
      problems.add(
        "rejected",
        null,
        heading,
        word,
        words.join(", "),
        `The program's own word ${JSON.stringify(written)} must lead to one of these, or to "" for missing.`,
      );
  }
  return Object.fromEntries(good);
}

class NumberReader implements ColumnReader {
  readonly #values = new GrowingNumbers();
  readonly #read: NumberReading;
  readonly #missing: MissingWords;
  readonly #heading: string;
  readonly #problems: ProblemList;

  constructor(read: NumberReading, missing: MissingWords, heading: string, problems: ProblemList) {
    this.#read = read;
    this.#missing = missing;
    this.#heading = heading;
    this.#problems = problems;
  }

  take(cell: string, row: number): void {
    const text = trimmed(cell);
    if (text === "") {
      this.#values.push(Number.NaN);
      return;
    }
    const found = this.#read(text);
    if (typeof found === "number") {
      this.#values.push(found);
      return;
    }
    this.#values.push(found.value);
    if (found.severity === "noted" || !this.#missing.has(text))
      this.#problems.add(found.severity, row, this.#heading, text, found.expected, found.remedy);
  }

  finish(): ColumnData {
    return this.#values.finish();
  }
}

/** Reads a cell to a word. What a spelling means is worked out once; a file has few. */
class WordReader implements ColumnReader {
  readonly #values: GrowingWords;
  readonly #known = new Map<string, string>();
  readonly #read: TextReading;
  readonly #missing: MissingWords;
  readonly #heading: string;
  readonly #problems: ProblemList;

  constructor(
    read: TextReading,
    words: readonly string[],
    missing: MissingWords,
    heading: string,
    problems: ProblemList,
  ) {
    this.#values = new GrowingWords(words);
    this.#read = read;
    this.#missing = missing;
    this.#heading = heading;
    this.#problems = problems;
  }

  take(cell: string, row: number): void {
    this.#values.push(this.word(cell, row));
  }

  word(cell: string, row: number): string {
    const known = this.#known.get(cell);
    if (known !== undefined) return known;
    const text = trimmed(cell);
    const found = text === "" ? "" : this.#read(text);
    // The words come before the missing ones: "none" is an answer to "cleanout?".
    const missing = typeof found !== "string" && this.#missing.has(text);
    if (typeof found === "string" || missing) {
      const word = typeof found === "string" ? found : "";
      this.#known.set(cell, word);
      return word;
    }
    this.#problems.add(found.severity, row, this.#heading, text, found.expected, found.remedy);
    return "";
  }

  finish(): ColumnData {
    return this.#values.finish();
  }
}

/** yes and no as 1 and 0. */
class FlagReader implements ColumnReader {
  readonly #values = new GrowingNumbers();
  readonly #words: WordReader;

  constructor(words: WordReader) {
    this.#words = words;
  }

  take(cell: string, row: number): void {
    const word = this.#words.word(cell, row);
    this.#values.push(word === "" ? Number.NaN : word === "yes" ? 1 : 0);
  }

  finish(): ColumnData {
    return this.#values.finish();
  }
}

class TextReader implements ColumnReader {
  readonly #values = new GrowingText();
  readonly #read: TextReading;
  readonly #missing: MissingWords;
  readonly #heading: string;
  readonly #problems: ProblemList;

  constructor(read: TextReading, missing: MissingWords, heading: string, problems: ProblemList) {
    this.#read = read;
    this.#missing = missing;
    this.#heading = heading;
    this.#problems = problems;
  }

  take(cell: string, row: number): void {
    const text = trimmed(cell);
    if (this.#missing.has(text)) {
      this.#values.push("");
      return;
    }
    const found = this.#read(text);
    if (typeof found === "string") {
      this.#values.push(found);
      return;
    }
    this.#values.push(found.value);
    this.#problems.add(found.severity, row, this.#heading, text, found.expected, found.remedy);
  }

  finish(): ColumnData {
    return this.#values.finish();
  }
}

/** A column the dictionary does not have: kept as it is, spaces and all. */
export class VerbatimReader implements ColumnReader {
  readonly #values = new GrowingText();

  take(cell: string): void {
    this.#values.push(cell);
  }

  finish(): ColumnData {
    return this.#values.finish();
  }
}
