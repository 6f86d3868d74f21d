import { MOST_READ } from "./records.ts";

/** More room than the first rows make likely: what is not used is never touched, and costs nothing. */
const MARGIN = 1.1;

/** How many rows a file will have, from its size and the rows met so far. */
export class RowsAhead {
  readonly #bytes: number;
  #characters = 0;
  #rows = 0;

  /** @param bytes of the file; undefined where nobody knows: then nothing is expected */
  constructor(bytes: number | undefined) {
    this.#bytes = bytes ?? 0;
  }

  /** @param characters read up to here */
  met(rows: number, characters: number): void {
    this.#rows = rows;
    this.#characters = characters;
  }

  readonly expected = (): number =>
    this.#characters === 0
      ? 0
      : Math.min(MOST_READ.rows, Math.ceil((MARGIN * this.#rows * this.#bytes) / this.#characters));
}
