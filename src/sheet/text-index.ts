import { type ExpectedRows, GrowingText } from "./grow.ts";
import { type Table, textAt } from "./table.ts";

/**
 * What a text's hash is multiplied by for its next letter: another one each run, so that no file can be written whose ids all fall together.
 * What is found does not depend on it. 5 beyond a multiple of 8: powers of a factor near 1 or −1 come round too soon, and ids fell together.
 */
const FACTOR = (crypto.getRandomValues(new Int32Array(1))[0]! & ~7) | 5;

/** Texts that {@link TextIndex.findAfter} looks at. */
const NEAR = 4;

const encoder = new TextEncoder();

/**
 * Texts that are each there once, numbered as they are met, and found again by their letters. A Map of a million ids takes six times as
 * long (0.7 s to fill, not 0.12) and 80 MB of strings that the garbage collector walks through, not 30 MB that it does not see.
 */
export class TextIndex extends GrowingText {
  /** Number + 1 of the text of each place; 0 for a free one. At most half of the places are taken. */
  #numbers = new Int32Array(4096);
  readonly #expectedTexts: ExpectedRows;

  constructor(expected: ExpectedRows = () => 0) {
    super(expected);
    this.#expectedTexts = expected;
  }

  get size(): number {
    return this.rows;
  }

  /** The text's number: that of the same text met before, else the next, which was {@link size}. */
  add(text: string): number {
    const bytes = encoder.encode(text);
    return this.addBytes(bytes, 0, bytes.length);
  }

  /** The same of a text of UTF-8, `bytes[from … to)`. */
  addBytes(bytes: Uint8Array, from: number, to: number): number {
    const place = this.#placeOf(bytes, from, to);
    const met = this.#numbers[place]!;
    if (met !== 0) return met - 1;
    this.pushBytes(bytes, from, to);
    this.#numbers[place] = this.rows;
    if (this.rows * 2 > this.#numbers.length) this.#spread();
    return this.rows - 1;
  }

  get(text: string): number | undefined {
    const bytes = encoder.encode(text);
    const met = this.find(bytes, 0, bytes.length);
    return met < 0 ? undefined : met;
  }

  /** The number of the text `bytes[from … to)`, -1 for one that is not there. */
  find(bytes: Uint8Array, from: number, to: number): number {
    return this.#numbers[this.#placeOf(bytes, from, to)]! - 1;
  }

  /** The same, looked for first among the few texts after the one of a number. */
  findAfter(number: number, bytes: Uint8Array, from: number, to: number): number {
    const last = Math.min(number + NEAR, this.rows - 1);
    for (let next = number + 1; next <= last; next++) if (this.#isSame(next, bytes, from, to)) return next;
    return this.find(bytes, from, to);
  }

  has(text: string): boolean {
    return this.get(text) !== undefined;
  }

  /** In the order of their numbers. */
  *keys(): Generator<string> {
    const table: Table = { rows: this.rows, columns: new Map([["text", this.finish()]]) };
    for (let row = 0; row < table.rows; row++) yield textAt(table, "text", row);
  }

  /** Where the text is, or may go. */
  #placeOf(bytes: Uint8Array, from: number, to: number): number {
    const numbers = this.#numbers;
    const mask = numbers.length - 1;
    let place = hashOf(bytes, from, to) & mask;
    for (;;) {
      const met = numbers[place]!;
      if (met === 0 || this.#isSame(met - 1, bytes, from, to)) return place;
      place = (place + 1) & mask;
    }
  }

  #isSame(row: number, bytes: Uint8Array, from: number, to: number): boolean {
    const { bytes: own, ends } = this;
    const shift = ends[row]! - from;
    if (ends[row + 1]! - shift !== to) return false;
    // The last letters first: they tell most ids apart.
    for (let i = to - 1; i >= from; i--) if (own[i + shift] !== bytes[i]) return false;
    return true;
  }

  /** Takes room for the texts expected, at least twice as many as there are. */
  #spread(): void {
    const places = 2 * Math.max(this.rows * 2, this.#expectedTexts());
    const numbers = new Int32Array(2 ** Math.ceil(Math.log2(places)));
    const mask = numbers.length - 1;
    for (let row = 0; row < this.rows; row++) {
      let place = hashOf(this.bytes, this.ends[row]!, this.ends[row + 1]!) & mask;
      while (numbers[place] !== 0) place = (place + 1) & mask;
      numbers[place] = row + 1;
    }
    this.#numbers = numbers;
  }
}

/**
 * All letters but the last are stirred (murmur3's finalizer, public domain): multiplied only, one factor in ten put a million ids where looking
 * took five to a hundred places, and now and then half a minute. The last is added, so that ids counted up lie side by side, ten and ten: each
 * scattered by itself, looking took 0.26 s of a million and not 0.03.
 *
 * @param factor for tests: any that is 5 beyond a multiple of 8
 */
export function hashOf(bytes: Uint8Array, from: number, to: number, factor = FACTOR): number {
  if (from === to) return 0;
  let hash = 0;
  for (let at = from; at < to - 1; at++) hash = (Math.imul(hash, factor) + bytes[at]!) | 0;
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
  return ((hash ^ (hash >>> 16)) + bytes[to - 1]!) | 0;
}
