import type { DecimalMark } from "../quantity/quantity-text.ts";
import { type ExpectedRows, GrowingNumbers, GrowingText, type GrowingWords } from "../sheet/grow.ts";
import type { ColumnData } from "../sheet/table.ts";
import { CellMemo } from "./cell-memo.ts";
import type { CellProblem, NumberReading, ProblemList, TextReading } from "./cell-problem.ts";
import type { MissingWords } from "./missing-words.ts";
import { plainDecimal } from "./plain-decimal.ts";
import { isMark, trimmed } from "./trimmed.ts";

/** Takes the cells of one column, row after row. */
export interface ColumnReader {
  /** Takes the cell `text[from … to)`: no string is made of a cell that is read at sight. */
  take(text: string, from: number, to: number, row: number): void;
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
  readonly #mark: DecimalMark;
  readonly #accept: (plain: number) => number;
  readonly #cells: CellByCell;

  /**
   * @param accept what a plain number is to the column; NaN when `read` must say what is wrong with it
   * @param read the column's reading, which gives the same for what is accepted
   */
  constructor(mark: DecimalMark, accept: (plain: number) => number, read: NumberReading, column: CellColumn) {
    this.#values = new GrowingNumbers(column.expected);
    this.#mark = mark;
    this.#accept = accept;
    this.#cells = new CellByCell(read, Number.NaN, column);
  }

  take(text: string, from: number, to: number, row: number): void {
    if (from === to) {
      this.#values.push(Number.NaN);
      return;
    }
    const value = this.#accept(plainDecimal(text, this.#mark, from, to));
    this.#values.push(Number.isNaN(value) ? this.#cells.value(text.slice(from, to), row) : value);
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

  take(text: string, from: number, to: number, row: number): void {
    if (from === to) this.#values.push(Number.NaN);
    else this.#values.push(this.#memo.get(text, from, to) ?? this.#read(text, from, to, row));
  }

  finish(): ColumnData {
    return this.#values.finish();
  }

  /** A cell with a problem is not remembered: each is said. */
  #read(text: string, from: number, to: number, row: number): number {
    const cell = text.slice(from, to);
    const value = this.#cells.value(cell, row);
    if (!this.#cells.hadProblem) this.#memo.keep(cell, value);
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

  take(text: string, from: number, to: number, row: number): void {
    if (from === to) this.#words.pushCode(0);
    else this.#words.pushCode(this.#memo.get(text, from, to) ?? this.#read(text, from, to, row));
  }

  finish(): ColumnData {
    return this.#words.finish();
  }

  #read(text: string, from: number, to: number, row: number): number {
    const cell = text.slice(from, to);
    const code = this.#cells.value(cell, row);
    if (!this.#cells.hadProblem) this.#memo.keep(cell, code);
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

  take(text: string, from: number, to: number, row: number): void {
    if (from === to) this.#values.push("");
    else if (
      this.#read === null ? this.#isPlain(text, from, to) : this.#good.get(text, from, to) !== undefined
    )
      this.#values.push(text, from, to);
    else this.#takeCell(text.slice(from, to), row);
  }

  finish(): ColumnData {
    return this.#values.finish();
  }

  /** No space at its ends, and no word for missing. */
  #isPlain(text: string, from: number, to: number): boolean {
    return (
      isMark(text.charCodeAt(from)) &&
      isMark(text.charCodeAt(to - 1)) &&
      !this.#column.missing.mayBe(text.charCodeAt(from), to - from)
    );
  }

  #takeCell(cell: string, row: number): void {
    const { missing, problems, heading } = this.#column;
    const text = trimmed(cell);
    if (missing.has(text)) {
      this.#values.push("");
      return;
    }
    const found = this.#read === null ? text : this.#read(text);
    if (typeof found === "string") {
      this.#values.push(found);
      if (this.#read !== null && found === cell) this.#good.keep(cell, 1);
      return;
    }
    this.#values.push(found.value);
    problems.add(found.severity, row, heading, text, found.expected, found.remedy);
  }
}

/** A column the dictionary does not have: kept as it is, spaces and all. */
export class VerbatimReader implements ColumnReader {
  readonly #values: GrowingText;

  constructor(expected: ExpectedRows) {
    this.#values = new GrowingText(expected);
  }

  take(text: string, from: number, to: number): void {
    this.#values.push(text, from, to);
  }

  finish(): ColumnData {
    return this.#values.finish();
  }
}
