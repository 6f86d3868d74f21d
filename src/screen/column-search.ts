import { isNumeric, type Measure } from "../quantity/measure.ts";
import { type NumberStyle, showNumber } from "../quantity/show-quantity.ts";
import { numbersOf, type Table, type TextColumn, textAt } from "../sheet/table.ts";

/** Whether the cell of a row shows what is looked for. */
export type CellTest = (row: number) => boolean;

/**
 * A test of a column's cells for a text as people see it, whatever the case of its letters; null where no cell can have it. The answers
 * are those of making each cell's text and looking into it, which takes 4 s for a million laterals: this takes 0.1 where no number has
 * such letters, else 1.
 *
 * @param wanted not empty, in lower case
 */
export function cellsWith(
  table: Table,
  key: string,
  measure: Measure,
  style: NumberStyle,
  wanted: string,
): CellTest | null {
  const has = (text: string): boolean => text.toLowerCase().includes(wanted);
  if (isNumeric(measure)) {
    if (!lettersOf(measure).test(wanted)) return null;
    return numbersWith(numbersOf(table, key), (value) => has(showNumber(value, measure, style)));
  }
  const column = table.columns.get(key);
  if (column?.kind === "code") {
    const { codes } = column;
    const met = column.words.map((word, code) => code > 0 && has(word));
    return met.includes(true) ? (row) => met[codes[row]!] === true : null;
  }
  if (column?.kind === "text") return textsWith(column, wanted, (row) => has(textAt(table, key, row)));
  throw new RangeError(`cellsWith: no column of text ${JSON.stringify(key)}`);
}

/** What numbers are written with: 1e+21 and Infinity are some too, and dates may have names of months. */
function lettersOf(measure: Measure): RegExp {
  switch (measure) {
    case "date":
      return /^[-+0-9., a-z]*$/;
    case "flag":
      return /^[enosy]*$/;
    default:
      return /^[-+0-9.,efinty]*$/;
  }
}

/** Different numbers whose answer is remembered: lengths and dates are fewer, and of costs and ranks nearly every one is another. */
const MOST_REMEMBERED = 10_000;

function numbersWith(values: Float64Array, has: (value: number) => boolean): CellTest {
  const known = new Map<number, boolean>();
  return (row) => {
    const value = values[row]!;
    const before = known.get(value);
    if (before !== undefined) return before;
    const found = has(value);
    if (known.size < MOST_REMEMBERED) known.set(value, found);
    return found;
  };
}

/** ASCII in lower case; other bytes as they are. */
const LOWER = Uint8Array.from({ length: 256 }, (_, byte) =>
  byte >= 0x41 && byte <= 0x5a ? byte + 0x20 : byte,
);

/**
 * Compares bytes as they lie in the table as long as they are ASCII. Of a cell with other letters the text is made: K of the kelvin is a
 * k in lower case, and a sigma at the end of a word is another than within.
 */
function textsWith({ bytes, ends }: TextColumn, wanted: string, hasInText: CellTest): CellTest {
  const letters = new TextEncoder().encode(wanted);
  return (row) => {
    const end = ends[row + 1]!;
    for (let at = ends[row]!; at < end; at++) {
      if (bytes[at]! > 127) return hasInText(row);
      let same = 0;
      while (same < letters.length && at + same < end && LOWER[bytes[at + same]!] === letters[same]) same++;
      if (same === letters.length) return true;
    }
    return false;
  };
}
