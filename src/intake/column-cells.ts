import { NO_ROWS, type RowBlock } from "./row-block.ts";

const NONE: Int32Array = new Int32Array(0);

/**
 * The cells of one column in some rows of a block, as places in its bytes. Each kind of reader has a loop of its own over them: one loop that
 * calls readers of all kinds in turn stays calls for the engine.
 */
export class ColumnCells {
  bytes = NO_ROWS;
  count = 0;
  /** Cell i is `bytes[bounds[first[i] + place] + 1 … bounds[first[i] + place + 1])`. */
  bounds = NONE;
  first = NONE;
  /** The cells are at this place of the chosen rows, the first at 0. */
  place = 0;
  /** Row of each cell as a spreadsheet numbers rows. */
  rows = NONE;
  /** The bounds of rows of which some are short, filled up. */
  #filled = NONE;

  /**
   * @param chosen rows of the block, the first `count` of them
   * @param width cells that are asked of each: those that a row does not have are empty
   */
  chooseRows(block: RowBlock, chosen: Int32Array, count: number, width: number): void {
    if (this.rows.length < count) {
      this.rows = new Int32Array(count);
      this.first = new Int32Array(count);
    }
    this.bytes = block.bytes;
    this.bounds = block.bounds;
    this.count = count;
    const { rows, first } = this;
    const { firsts, lasts, firstRow } = block;
    let areWhole = true;
    for (let i = 0; i < count; i++) {
      const row = chosen[i]!;
      rows[i] = firstRow + row;
      first[i] = firsts[row]!;
      areWhole &&= lasts[row]! - firsts[row]! >= width;
    }
    if (!areWhole) this.#fillUp(block, chosen, width);
  }

  /** Gives each row as many cells as are asked of it, the last ones with nothing between their bounds. */
  #fillUp({ bounds, firsts, lasts }: RowBlock, chosen: Int32Array, width: number): void {
    const { count, first } = this;
    if (this.#filled.length < count * (width + 1)) this.#filled = new Int32Array(count * (width + 1));
    const filled = this.#filled;
    let at = 0;
    for (let i = 0; i < count; i++) {
      const from = firsts[chosen[i]!]!;
      const end = Math.min(lasts[chosen[i]!]!, from + width) + 1;
      first[i] = at;
      for (let bound = from; bound < end; bound++) filled[at++] = bounds[bound]!;
      for (; at <= first[i]! + width; at++) filled[at] = filled[at - 1]! + 1;
    }
    this.bounds = filled;
  }

  /** Where cell i begins in `bytes`. */
  from(i: number): number {
    return this.bounds[this.first[i]! + this.place]! + 1;
  }

  /** Where it ends. */
  to(i: number): number {
    return this.bounds[this.first[i]! + this.place + 1]!;
  }

  /** What is written in cell i. */
  text(i: number): string {
    return this.bytes.toString("utf8", this.from(i), this.to(i));
  }
}
