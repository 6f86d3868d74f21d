import { NO_ROWS, type RowBlock } from "./row-block.ts";

/**
 * The cells of one column in some rows of a block, as places in its bytes. Each kind of reader has a loop of its own over them: one loop that
 * calls readers of all kinds in turn stays calls for the engine.
 */
export class ColumnCells {
  bytes = NO_ROWS;
  count = 0;
  /** Cell i is `bytes[from[i] … to[i])`. */
  from = new Int32Array(0);
  to = new Int32Array(0);
  /** Row of each cell as a spreadsheet numbers rows. */
  rows = new Int32Array(0);

  /** @param chosen rows of the block, the first `count` of them */
  chooseRows(block: RowBlock, chosen: Int32Array, count: number): void {
    if (this.rows.length < count) {
      this.from = new Int32Array(count);
      this.to = new Int32Array(count);
      this.rows = new Int32Array(count);
    }
    this.bytes = block.bytes;
    this.count = count;
    for (let i = 0; i < count; i++) this.rows[i] = block.firstRow + chosen[i]!;
  }

  /** A cell that its row does not have is empty. */
  choosePlace({ bounds, firsts, lasts }: RowBlock, chosen: Int32Array, place: number): void {
    const { count, from, to } = this;
    for (let i = 0; i < count; i++) {
      const row = chosen[i]!;
      const at = firsts[row]! + place;
      const has = at < lasts[row]!;
      from[i] = has ? bounds[at]! + 1 : 0;
      to[i] = has ? bounds[at + 1]! : 0;
    }
  }

  text(i: number): string {
    return this.bytes.toString("utf8", this.from[i], this.to[i]);
  }
}
