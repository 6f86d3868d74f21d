import type { Column } from "../columns/column.ts";
import { type CodeColumn, type ColumnData, missingNumbers, missingWords, type Table } from "./table.ts";

/** A column of which nothing is known: as many missing cells as rows. It may be written to. */
export const absentColumn = (column: Pick<Column, "measure" | "words">, rows: number): ColumnData =>
  new AbsentColumns(rows).column(column);

/**
 * Columns of one table of which nothing is known. They share their cells, so none may be written to: a city's file leaves out some ten columns
 * of numbers, 80 MB of a million laterals if each had its own.
 */
export class AbsentColumns {
  readonly #rows: number;
  #numbers: Float64Array | null = null;
  #codes: Uint32Array | null = null;

  constructor(rows: number) {
    this.#rows = rows;
  }

  column({ measure, words }: Pick<Column, "measure" | "words">): ColumnData {
    switch (measure) {
      case "text":
        return { kind: "text", bytes: new Uint8Array(new SharedArrayBuffer(0)), ends: this.#zeros() };
      case "code":
        return this.words(words ?? []);
      default:
        this.#numbers ??= missingNumbers(this.#rows).values;
        return { kind: "number", values: this.#numbers };
    }
  }

  /** As {@link missingWords}. */
  words(words: readonly string[]): CodeColumn {
    return { kind: "code", codes: this.#zeros().subarray(0, this.#rows), words: ["", ...words] };
  }

  /** One more than rows. */
  #zeros(): Uint32Array {
    this.#codes ??= new Uint32Array(new SharedArrayBuffer((this.#rows + 1) * 4));
    return this.#codes;
  }
}

/** A table of these columns with no rows, for a file the program does not have. */
export const emptyTable = (columns: readonly Column[]): Table => ({
  rows: 0,
  columns: new Map(columns.map((column) => [column.key, absentColumn(column, 0)])),
});
