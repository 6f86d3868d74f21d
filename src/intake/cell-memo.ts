import { TextIndex } from "../sheet/text-index.ts";

/** Different cells that are remembered. A column that says more things than that does not say few. */
const MOST = 16_384;

/** What cells of the same text were read as, for columns that say few different things. */
export class CellMemo {
  readonly #known = new TextIndex();
  /** By the number that {@link find} gives. */
  readonly values = new Float64Array(MOST);

  /** Number of the cell `bytes[from … to)`; -1 when it is not remembered. */
  find(bytes: Uint8Array, from: number, to: number): number {
    return this.#known.find(bytes, from, to);
  }

  /** Remembers a cell, while there is room. */
  keep(bytes: Uint8Array, from: number, to: number, value: number): void {
    if (this.#known.size < MOST) this.values[this.#known.addBytes(bytes, from, to)] = value;
  }
}
