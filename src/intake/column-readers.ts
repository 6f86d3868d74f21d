import type { CityFile, InspectionFile } from "../columns/city-file.ts";
import type { Column } from "../columns/column.ts";
import { dimensionOf, isQuantity } from "../quantity/measure.ts";
import { sameDimension, type UnitKey, units } from "../quantity/units.ts";
import type { ValueWords } from "../reference/value-words.ts";
import { type ExpectedRows, GrowingWords } from "../sheet/grow.ts";
import type { CellProblem, NumberReading, ProblemList } from "./cell-problem.ts";
import {
  type Acceptance,
  type CellColumn,
  type ColumnReader,
  DecimalReader,
  FewNumbersReader,
  TextReader,
  WordReader,
} from "./cell-readers.ts";
import { readDate, readYear } from "./date-cell.ts";
import { MissingWords } from "./missing-words.ts";
import {
  gradeFrom,
  numberWithin,
  readCoordinate,
  readCount,
  readDegrees,
  readGrade,
  wholeWithin,
} from "./number-cells.ts";
import { quantityReading, storedWithin } from "./quantity-cell.ts";
import { readQuickRating } from "./text-cells.ts";
import { type OwnWords, readWord, wordTable } from "./word-cells.ts";

/** What the readers of a file's columns need to know. */
export interface ReadingRules {
  readonly file: Pick<CityFile<string>, "decimalMark" | "dateOrder">;
  /** Only inspection files have grades. */
  readonly worstGrade?: InspectionFile["worstGrade"];
  readonly words: ValueWords;
  /** The program's own words, by column key. */
  readonly ownWords: Readonly<Record<string, OwnWords>>;
  /** The year of the program's day, where it is known: a year after it is refused. */
  readonly latestYear?: number | undefined;
  readonly expected: ExpectedRows;
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
  const cells: CellColumn = { heading, missing, problems, expected: rules.expected };
  const decimals = (accept: Acceptance, read: NumberReading) =>
    new DecimalReader(decimalMark, accept, read, cells);

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
    return decimals(storedWithin(measure, unit, range), quantityReading(measure, unit, decimalMark, range));
  }
  switch (measure) {
    case "year":
      return new FewNumbersReader((text) => readYear(text, dateOrder, range, rules.latestYear), cells);
    case "date":
      return new FewNumbersReader((text) => readDate(text, dateOrder), cells);
    case "count":
      return decimals(
        each((plain) => wholeWithin(plain, range)),
        (text) => readCount(text, range, decimalMark),
      );
    case "degrees":
      return decimals(
        each((plain) => numberWithin(plain, range)),
        (text) => readDegrees(text, range, decimalMark),
      );
    case "coordinate":
    case "points":
    case "factor":
    case "days":
      return decimals(
        () => {},
        (text) => readCoordinate(text, decimalMark),
      );
    case "grade": {
      const { worstGrade } = rules;
      if (worstGrade === undefined)
        throw new RangeError(`columnReader: ${key} is a grade, and no worst grade is given`);
      return decimals(
        each((plain) => gradeFrom(plain, worstGrade)),
        (text) => readGrade(text, worstGrade, decimalMark),
      );
    }
    case "flag": {
      const table = wordTable(
        key,
        YES_NO,
        { yes: rules.words.yes, no: rules.words.no },
        ownWordsFor(key, YES_NO, heading, rules, problems),
      );
      const read: NumberReading = (text) => asFlag(readWord(text, table, key, YES_NO));
      return new FewNumbersReader(read, cells);
    }
    case "code": {
      const words = column.words ?? [];
      const own = ownWordsFor(key, words, heading, rules, problems);
      const table = wordTable(key, words, rules.words.codes[key] ?? {}, own);
      return new WordReader(
        new GrowingWords(words, rules.expected),
        (text) => readWord(text, table, key, words),
        cells,
      );
    }
    case "text":
      return new TextReader(key.endsWith("_quick") ? readQuickRating : null, cells);
    default:
      return measure satisfies never;
  }
}

const each =
  (accept: (plain: number) => number): Acceptance =>
  (numbers) => {
    for (let i = 0; i < numbers.length; i++) numbers[i] = accept(numbers[i]!);
  };

/** yes and no as 1 and 0. */
function asFlag(word: string | CellProblem<string>): number | CellProblem<number> {
  if (typeof word !== "string") return { ...word, value: Number.NaN };
  return word === "" ? Number.NaN : word === "yes" ? 1 : 0;
}

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
