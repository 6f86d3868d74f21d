import { type LineCutter, lineCutter } from "./line-cutter.ts";
import { isMark } from "./trimmed.ts";

export const NO_ROWS: Buffer = Buffer.alloc(0);
const NO_PLACES = new Int32Array(0);

/**
 * Rows of a city's file and their cells as places in bytes of UTF-8, the same object for block after block: of most cells no string is ever
 * made. Read so, and column by column (`ColumnCells`), a million laterals took 1.5 s on a busy machine; as places in decoded text, row by row, 2.3.
 */
export class RowBlock {
  bytes = NO_ROWS;
  rows = 0;
  /** Row of the first as a spreadsheet numbers rows: a record is one row, however many lines its cells have. */
  firstRow = 1;
  /** Some cell has a line break. */
  multiline = false;
  /** Cell i of row r is `bytes[bounds[firsts[r] + i] + 1 … bounds[firsts[r] + i + 1])`, up to the one that ends at `bounds[lasts[r]]`. */
  bounds: Int32Array = NO_PLACES;
  firsts: Int32Array = NO_PLACES;
  lasts: Int32Array = NO_PLACES;
  #cut: LineCutter | null = null;
  /** Room for the places of records; that for lines is the cutter's. */
  #room = { bounds: NO_PLACES, firsts: NO_PLACES, lasts: NO_PLACES };

  /** Takes lines that all end, with CR LF, LF or CR, and have no quote marks. */
  takeLines(bytes: Buffer, delimiter: number): void {
    this.#cut ??= lineCutter();
    const { rows, bounds, firsts, lasts } = this.#cut(bytes, delimiter);
    this.bytes = bytes;
    this.rows = rows;
    this.bounds = bounds;
    this.firsts = firsts;
    this.lasts = lasts;
    this.multiline = false;
  }

  /** Takes rows whose cells were cut before, one or more in each. */
  takeRecords(records: readonly (readonly string[])[], multiline: boolean): void {
    const text = records.map((cells) => `${cells.join("\n")}\n`).join("");
    const bytes = Buffer.from(text);
    const lengthOf = bytes.length === text.length ? (cell: string) => cell.length : Buffer.byteLength;
    const { bounds, firsts, lasts } = this.#roomFor(bytes.length);
    let at = -1;
    let next = 0;
    bounds[next] = at;
    for (const [row, cells] of records.entries()) {
      firsts[row] = next;
      for (const cell of cells) bounds[++next] = at += lengthOf(cell) + 1;
      lasts[row] = next;
    }
    this.bytes = bytes;
    this.rows = records.length;
    this.bounds = bounds;
    this.firsts = firsts;
    this.lasts = lasts;
    this.multiline = multiline;
  }

  /** How many cells a row has. */
  count(row: number): number {
    return this.lasts[row]! - this.firsts[row]!;
  }

  /** Where a cell that the row has begins. */
  from(row: number, place: number): number {
    return this.bounds[this.firsts[row]! + place]! + 1;
  }

  /** Where it ends. */
  to(row: number, place: number): number {
    return this.bounds[this.firsts[row]! + place + 1]!;
  }

  text(from: number, to: number): string {
    return this.bytes.toString("utf8", from, to);
  }

  /** The text of a cell, "" for one the row does not have. */
  cell(row: number, place: number): string {
    return place < this.count(row) ? this.text(this.from(row, place), this.to(row, place)) : "";
  }

  /** All cells of a row, for what is seldom asked. */
  cells(row: number): string[] {
    return Array.from({ length: this.count(row) }, (_, place) => this.cell(row, place));
  }

  /** Whether there is nothing in any cell of a row. */
  isBlank(row: number): boolean {
    const first = this.from(row, 0);
    if (first < this.to(row, 0) && isMark(this.bytes[first]!)) return false;
    return this.cells(row).every((cell) => cell.trim() === "");
  }

  /** A cell, and so a record, has a byte at least: that of its end. */
  #roomFor(bytes: number) {
    const places = (count: number) => new Int32Array(count);
    if (this.#room.bounds.length <= bytes)
      this.#room = { bounds: places(bytes + 1), firsts: places(bytes), lasts: places(bytes) };
    return this.#room;
  }
}
