import { type ExpectedRows, GrowingText } from "./grow.ts";
import { type Table, textAt } from "./table.ts";

/**
 * What a text's hash is multiplied by for its next letter: odd, and another one each run, so that no file can be written whose ids all fall
 * together. What is found does not depend on it.
 */
const FACTOR = crypto.getRandomValues(new Int32Array(1))[0]! | 1;

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
    this.push(text);
    const place = this.#placeOfLast();
    const met = this.#numbers[place]!;
    if (met !== 0) {
      this.rows--;
      return met - 1;
    }
    this.#numbers[place] = this.rows;
    if (this.rows * 2 > this.#numbers.length) this.#spread();
    return this.rows - 1;
  }

  get(text: string): number | undefined {
    // Written behind the others, where its bytes can be compared with theirs.
    this.push(text);
    const met = this.#numbers[this.#placeOfLast()]!;
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

  /** Where the last text is, or may go. */
  #placeOfLast(): number {
    const numbers = this.#numbers;
    const mask = numbers.length - 1;
    let place = this.#hashOf(this.rows - 1) & mask;
    for (;;) {
      const met = numbers[place]!;
      if (met === 0 || this.#sameAsLast(met - 1)) return place;
      place = (place + 1) & mask;
    }
  }

  /** The last letter is added, so that ids counted up lie side by side: with a million scattered, looking took 0.26 s and not 0.03. */
  #hashOf(row: number): number {
    const { bytes } = this;
    const end = this.ends[row + 1]!;
    let hash = 0;
    for (let at = this.ends[row]!; at < end; at++) hash = (Math.imul(hash, FACTOR) + bytes[at]!) | 0;
    return hash;
  }

  #sameAsLast(row: number): boolean {
    const { bytes, ends } = this;
    const start = ends[row]!;
    const last = ends[this.rows - 1]!;
    const length = ends[this.rows]! - last;
    if (ends[row + 1]! - start !== length) return false;
    // The last letters first: they tell most ids apart.
    for (let i = length - 1; i >= 0; i--) if (bytes[start + i] !== bytes[last + i]) return false;
    return true;
  }

  /** Takes room for the texts expected, at least twice as many as there are. */
  #spread(): void {
    const places = 2 * Math.max(this.rows * 2, this.#expectedTexts());
    const numbers = new Int32Array(2 ** Math.ceil(Math.log2(places)));
    const mask = numbers.length - 1;
    for (let row = 0; row < this.rows; row++) {
      let place = this.#hashOf(row) & mask;
      while (numbers[place] !== 0) place = (place + 1) & mask;
      numbers[place] = row + 1;
    }
    this.#numbers = numbers;
  }
}
