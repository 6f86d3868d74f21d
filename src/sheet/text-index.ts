import { type ExpectedRows, GrowingText } from "./grow.ts";
import { type Table, textAt } from "./table.ts";

/** Another one each run, so that no file can be written whose ids all fall together. What is found does not depend on it. */
const SEED = crypto.getRandomValues(new Int32Array(1))[0]!;

/**
 * Texts that are each there once, numbered as they are met, and found again by their letters. A Map of a million ids takes four times as long
 * (1.5 s to fill, not 0.3) and 90 MB of strings that the garbage collector walks through, not 30 MB that it does not see.
 */
export class TextIndex extends GrowingText {
  /** Hash and number + 1 of each text, side by side; 0 for a free place. At most half of the places are taken. */
  #slots = new Int32Array(2 * 4096);
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
    const hash = this.#putLast(text);
    const place = this.#placeOf(hash);
    const met = this.#slots[place + 1]!;
    if (met !== 0) {
      this.rows--;
      return met - 1;
    }
    this.#slots[place] = hash;
    this.#slots[place + 1] = this.rows;
    if (this.rows * 4 > this.#slots.length) this.#spread();
    return this.rows - 1;
  }

  get(text: string): number | undefined {
    const met = this.#slots[this.#placeOf(this.#putLast(text)) + 1]!;
    this.rows--;
    return met === 0 ? undefined : met - 1;
  }

  has(text: string): boolean {
    return this.get(text) !== undefined;
  }

  /** In the order of their numbers. */
  *keys(): Generator<string> {
    const table: Table = { rows: this.rows, columns: new Map([["text", this.finish()]]) };
    for (let row = 0; row < table.rows; row++) yield textAt(table, "text", row);
  }

  /** Writes a text behind the others, where its bytes are compared with theirs, and gives its hash. */
  #putLast(text: string): number {
    this.push(text);
    return hashOf(this.bytes, this.ends[this.rows - 1]!, this.ends[this.rows]!);
  }

  /** Where the last text is in the slots, or may go. */
  #placeOf(hash: number): number {
    const slots = this.#slots;
    const mask = slots.length - 1;
    let place = (hash << 1) & mask;
    for (;;) {
      const met = slots[place + 1]!;
      if (met === 0 || (slots[place] === hash && this.#sameAsLast(met - 1))) return place;
      place = (place + 2) & mask;
    }
  }

  #sameAsLast(row: number): boolean {
    const { bytes, ends } = this;
    let at = ends[row]!;
    const end = ends[row + 1]!;
    let last = ends[this.rows - 1]!;
    if (end - at !== ends[this.rows]! - last) return false;
    while (at < end) if (bytes[at++] !== bytes[last++]) return false;
    return true;
  }

  /** Takes room for the texts expected, at least twice as many as there are. */
  #spread(): void {
    const slots = this.#slots;
    const wanted = 4 * Math.max(this.rows * 2, this.#expectedTexts());
    const spread = new Int32Array(2 ** Math.ceil(Math.log2(wanted)));
    const mask = spread.length - 1;
    for (let from = 0; from < slots.length; from += 2) {
      if (slots[from + 1] === 0) continue;
      let place = (slots[from]! << 1) & mask;
      while (spread[place + 1] !== 0) place = (place + 2) & mask;
      spread[place] = slots[from]!;
      spread[place + 1] = slots[from + 1]!;
    }
    this.#slots = spread;
  }
}

/** FNV-1a (its prime from memory, unverified: any odd factor would do), then mixed so that the low bits depend on all. */
function hashOf(bytes: Uint8Array, from: number, to: number): number {
  let hash = SEED;
  for (let at = from; at < to; at++) hash = Math.imul(hash ^ bytes[at]!, 0x01000193);
  hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d);
  return hash ^ (hash >>> 13);
}
