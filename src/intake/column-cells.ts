import { NO_ROWS, type RowBlock } from "./row-block.ts";

const NONE: Int32Array = new Int32Array(0);

/**
 * The cells of one column in some rows of a block, as places in its bytes. Each kind of reader has a loop of its own over them: one loop that
 * calls readers of all kinds in turn stays calls for the engine.
 */
export class ColumnCells {
  bytes = NO_ROWS;
  count = 0;
  /** Cell i is `bytes[before[i] + 1 … to[i])`. */
  before = NONE;
  to = NONE;
  /** Row of each cell as a spreadsheet numbers rows. */
  rows = NONE;
  /** First bound of each row in the block. */
  #first = NONE;
  /** By place: where the cell begins in each row, but for one; the next place has where it ends. */
  #bounds: Int32Array[] = [];

  /**
   * @param chosen rows of the block, the first `count` of them
   * @param width cells that are asked of each: those that a row does not have are empty
   */
  chooseRows(block: RowBlock, chosen: Int32Array, count: number, width: number): void {
    if (this.rows.length < count || this.#bounds.length <= width) {
      this.rows = new Int32Array(count);
      this.#first = new Int32Array(count);
      this.#bounds = Array.from({ length: width + 1 }, () => new Int32Array(count));
    }
    this.bytes = block.bytes;
    this.count = count;
    const { bounds, firsts, firstRow } = block;
    const first = this.#first;
    const { rows } = this;
    for (let i = 0; i < count; i++) {
      rows[i] = firstRow + chosen[i]!;
      first[i] = firsts[chosen[i]!]!;
    }
    for (let place = 0; place <= width; place++) {
      const own = this.#bounds[place]!;
      for (let i = 0; i < count; i++) own[i] = bounds[first[i]! + place]!;
    }
    for (let i = 0; i < count; i++)
      for (let place = block.count(chosen[i]!) + 1; place <= width; place++)
        this.#bounds[place]![i] = this.#bounds[place - 1]![i]! + 1;
  }

  /** Turns to the cells at one place of the chosen rows, the first at 0: `before`, `to`, `from` and `text` are of them until the next. */
  choosePlace(place: number): void {
    this.before = this.#bounds[place]!;
    this.to = this.#bounds[place + 1]!;
  }

  /** Where cell i begins in `bytes`. */
  from(i: number): number {
    return this.before[i]! + 1;
  }

  /** What is written in cell i. */
  text(i: number): string {
    return this.bytes.toString("utf8", this.from(i), this.to[i]);
  }
}
