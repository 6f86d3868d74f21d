/** Longest cell that is remembered. A day, a year, a material are short; what is long is mostly said once. */
const LONGEST = 32;

/**
 * What cells of the same text were read as, for columns that say few different things. Each text has one place, and the last that came there is
 * kept: a quarter of the time of a Map, which wants a string made of every cell (20 ns a cell, not 80).
 */
export class CellMemo {
  readonly #mask: number;
  readonly #texts: string[];
  readonly #values: Float64Array;
  /** Place of the text last looked for. */
  #place = 0;

  /** @param places a power of two, more than the column says different things */
  constructor(places: number) {
    this.#mask = places - 1;
    this.#texts = new Array<string>(places).fill("");
    this.#values = new Float64Array(places);
  }

  /** Whether `text[from … to)` is remembered: then {@link value} is what it was read as. Never true of an empty cell. */
  has(text: string, from: number, to: number): boolean {
    const length = to - from;
    if (length > LONGEST) return false;
    let hash = length;
    for (let at = from; at < to; at++) hash = (Math.imul(hash, 31) + text.charCodeAt(at)) | 0;
    this.#place = (hash ^ (hash >>> 12)) & this.#mask;
    const known = this.#texts[this.#place]!;
    if (known.length !== length || length === 0) return false;
    for (let i = 0; i < length; i++) if (known.charCodeAt(i) !== text.charCodeAt(from + i)) return false;
    return true;
  }

  get value(): number {
    return this.#values[this.#place]!;
  }

  /** Remembers the text that was just looked for and not found. */
  keep(cell: string, value: number): void {
    if (cell.length > LONGEST || cell.length === 0) return;
    this.#texts[this.#place] = cell;
    this.#values[this.#place] = value;
  }
}
