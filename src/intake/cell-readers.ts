import type { DecimalMark } from "../quantity/quantity-text.ts";
import { type ExpectedRows, GrowingNumbers, GrowingText, type GrowingWords } from "../sheet/grow.ts";
import type { ColumnData } from "../sheet/table.ts";
import { CellMemo } from "./cell-memo.ts";
import type { CellProblem, NumberReading, ProblemList, TextReading } from "./cell-problem.ts";
import type { ColumnCells } from "./column-cells.ts";
import type { MissingWords } from "./missing-words.ts";
import { plainDecimalIn } from "./plain-decimal.ts";
import { isMark, trimmed } from "./trimmed.ts";

/** Makes of plain numbers, in their place, what they are to a column; NaN of those that its reading must look at. */
export type Acceptance = (numbers: Float64Array) => void;

/** Takes the cells of one column, block after block. No string is made of a cell that is read at sight. */
export interface ColumnReader {
  take(cells: ColumnCells): void;
  finish(): ColumnData;
}

/** A column in a file: what the reader of its cells must know to say what is wrong with one. */
export interface CellColumn {
  readonly heading: string;
  readonly missing: MissingWords;
  readonly problems: ProblemList;
  readonly expected: ExpectedRows;
}

/** Reads cells that are not read at sight, and says what is wrong with them. */
class CellByCell {
  /** Whether something was said of the cell last read. */
  hadProblem = false;
  readonly #read: NumberReading;
  readonly #nothing: number;
  readonly #column: CellColumn;

  /** @param nothing what stands for an empty cell */
  constructor(read: NumberReading, nothing: number, column: CellColumn) {
    this.#read = read;
    this.#nothing = nothing;
    this.#column = column;
  }

  value(cell: string, row: number): number {
    this.hadProblem = false;
    const text = trimmed(cell);
    if (text === "") return this.#nothing;
    const found = this.#read(text);
    if (typeof found === "number") return found;
    const { missing, problems, heading } = this.#column;
    // The reading comes before the words for missing: "none" is an answer to "cleanout?".
    if (found.severity === "noted" || !missing.has(text)) {
      this.hadProblem = true;
      problems.add(found.severity, row, heading, text, found.expected, found.remedy);
    }
    return found.value;
  }
}

/** A column of decimal numbers. */
export class DecimalReader implements ColumnReader {
  readonly #values: GrowingNumbers;
  readonly #mark: number;
  readonly #accept: Acceptance;
  readonly #cells: CellByCell;

  /**
   * @param accept plain numbers, a block at once: cell by cell each would be an object on its way in and out
   * @param read the column's reading, which gives the same for what is accepted
   */
  constructor(mark: DecimalMark, accept: Acceptance, read: NumberReading, column: CellColumn) {
    this.#values = new GrowingNumbers(column.expected);
    this.#mark = mark.charCodeAt(0);
    this.#accept = accept;
    this.#cells = new CellByCell(read, Number.NaN, column);
  }

  take(cells: ColumnCells): void {
    const { bytes, bounds, first, place, count } = cells;
    const values = this.#values.room(count);
    const mark = this.#mark;
    for (let i = 0; i < count; i++) {
      const at = first[i]! + place;
      values[i] = plainDecimalIn(bytes, mark, bounds[at]! + 1, bounds[at + 1]!);
    }
    this.#accept(values);
    for (let i = 0; i < count; i++)
      if (Number.isNaN(values[i]!) && cells.from(i) < cells.to(i))
        values[i] = this.#cells.value(cells.text(i), cells.rows[i]!);
  }

  finish(): ColumnData {
    return this.#values.finish();
  }
}

/** A column that says few different things, as numbers: days, years, yes and no. Each is worked out when it is met. */
export class FewNumbersReader implements ColumnReader {
  readonly #values: GrowingNumbers;
  readonly #memo = new CellMemo();
  readonly #cells: CellByCell;

  constructor(read: NumberReading, column: CellColumn) {
    this.#values = new GrowingNumbers(column.expected);
    this.#cells = new CellByCell(read, Number.NaN, column);
  }

  take(cells: ColumnCells): void {
    const { bytes, bounds, first, place, count } = cells;
    const values = this.#values.room(count);
    for (let i = 0; i < count; i++) {
      const at = first[i]! + place;
      const start = bounds[at]! + 1;
      const end = bounds[at + 1]!;
      if (start === end) values[i] = Number.NaN;
      else {
        const known = this.#memo.find(bytes, start, end);
        values[i] = known < 0 ? this.#read(cells, i) : this.#memo.values[known]!;
      }
    }
  }

  finish(): ColumnData {
    return this.#values.finish();
  }

  /** A cell with a problem is not remembered: each is said. */
  #read(cells: ColumnCells, i: number): number {
    const value = this.#cells.value(cells.text(i), cells.rows[i]!);
    if (!this.#cells.hadProblem) this.#memo.keep(cells.bytes, cells.from(i), cells.to(i), value);
    return value;
  }
}

/** A column of words. What a spelling means is worked out once; a file has few. */
export class WordReader implements ColumnReader {
  readonly #words: GrowingWords;
  readonly #memo = new CellMemo();
  readonly #cells: CellByCell;

  constructor(words: GrowingWords, read: TextReading, column: CellColumn) {
    this.#words = words;
    this.#cells = new CellByCell((text) => this.#codeOf(read(text)), 0, column);
  }

  take(cells: ColumnCells): void {
    const { bytes, bounds, first, place, count } = cells;
    const codes = this.#words.room(count);
    for (let i = 0; i < count; i++) {
      const at = first[i]! + place;
      const start = bounds[at]! + 1;
      const end = bounds[at + 1]!;
      if (start === end) codes[i] = 0;
      else {
        const known = this.#memo.find(bytes, start, end);
        codes[i] = known < 0 ? this.#read(cells, i) : this.#memo.values[known]!;
      }
    }
  }

  finish(): ColumnData {
    return this.#words.finish();
  }

  #read(cells: ColumnCells, i: number): number {
    const code = this.#cells.value(cells.text(i), cells.rows[i]!);
    if (!this.#cells.hadProblem) this.#memo.keep(cells.bytes, cells.from(i), cells.to(i), code);
    return code;
  }

  #codeOf(found: string | CellProblem<string>): number | CellProblem<number> {
    return typeof found === "string"
      ? this.#words.codeOf(found)
      : { ...found, value: this.#words.codeOf(found.value) };
  }
}

/** A column of text, kept as it is written but for spaces at its ends. */
export class TextReader implements ColumnReader {
  readonly #values: GrowingText;
  readonly #column: CellColumn;
  readonly #read: TextReading | null;
  /** Texts that `read` found nothing wrong with. */
  readonly #good = new CellMemo();

  /** @param read what may be wrong with a text; null when nothing can be */
  constructor(read: TextReading | null, column: CellColumn) {
    this.#values = new GrowingText(column.expected);
    this.#column = column;
    this.#read = read;
  }

  take(cells: ColumnCells): void {
    const { bytes, bounds, first, place, count } = cells;
    let taken = 0;
    for (let i = 0; i < count; i++) {
      const at = first[i]! + place;
      const start = bounds[at]! + 1;
      const end = bounds[at + 1]!;
      if (start === end || this.#isGood(bytes, start, end)) continue;
      this.#values.pushAll(cells, taken, i);
      this.#takeCell(cells, i);
      taken = i + 1;
    }
    this.#values.pushAll(cells, taken, count);
  }

  finish(): ColumnData {
    return this.#values.finish();
  }

  /** Whether it is kept as it is: found good before, or without spaces at its ends and no word for missing. */
  #isGood(bytes: Uint8Array, from: number, to: number): boolean {
    if (this.#read !== null) return this.#good.find(bytes, from, to) >= 0;
    return (
      isMark(bytes[from]!) && isMark(bytes[to - 1]!) && !this.#column.missing.mayBe(bytes[from]!, to - from)
    );
  }

  #takeCell(cells: ColumnCells, i: number): void {
    const { missing, problems, heading } = this.#column;
    const cell = cells.text(i);
    const text = trimmed(cell);
    if (missing.has(text)) {
      this.#values.push("");
      return;
    }
    const found = this.#read === null ? text : this.#read(text);
    if (typeof found === "string") {
      this.#values.push(found);
      if (this.#read !== null && found === cell) this.#good.keep(cells.bytes, cells.from(i), cells.to(i), 1);
      return;
    }
    this.#values.push(found.value);
    problems.add(found.severity, cells.rows[i]!, heading, text, found.expected, found.remedy);
  }
}

/** A column the dictionary does not have: kept as it is, spaces and all. */
export class VerbatimReader implements ColumnReader {
  readonly #values: GrowingText;

  constructor(expected: ExpectedRows) {
    this.#values = new GrowingText(expected);
  }

  take(cells: ColumnCells): void {
    this.#values.pushAll(cells, 0, cells.count);
  }

  finish(): ColumnData {
    return this.#values.finish();
  }
}
