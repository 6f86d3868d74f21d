import { ownText } from "./own-text.ts";

/** Different cells that are remembered. A column that says more things than that does not say few. */
const MOST = 16_384;

/** What cells of the same text were read as, for columns that say few different things. */
export class CellMemo {
  readonly #known = new Map<string, number>();

  /** What `text[from … to)` was read as; undefined when it was not. */
  get(text: string, from: number, to: number): number | undefined {
    return this.#known.get(text.slice(from, to));
  }

  /** Remembers a cell, while there is room. */
  keep(cell: string, value: number): void {
    if (this.#known.size < MOST) this.#known.set(ownText(cell), value);
  }
}
