/** Cells that say that nothing is known, compared without case: `N/A`, `<Null>`, `-`. */
export class MissingWords {
  readonly #words: ReadonlySet<string>;
  /** In bytes: UTF-8 takes at most three for a letter. */
  readonly #longest: number;
  /** 1 for the first letters of the words: most cells are told apart by theirs. */
  readonly #initials = new Uint8Array(0x10000);

  constructor(words: readonly string[]) {
    this.#words = new Set(words.map((word) => word.toLowerCase()));
    this.#longest = 3 * Math.max(0, ...words.map((word) => word.length));
    for (const word of words) {
      this.#initials[word.toLowerCase().charCodeAt(0)] = 1;
      this.#initials[word.toUpperCase().charCodeAt(0)] = 1;
    }
  }

  /** @param text trimmed; an empty cell is missing too */
  has(text: string): boolean {
    const n = text.length;
    return n === 0 || (this.mayBe(text.charCodeAt(0), n) && this.#words.has(text.toLowerCase()));
  }

  /** Whether some word for missing begins with this letter and may have so many bytes. */
  mayBe(initial: number, length: number): boolean {
    return length <= this.#longest && this.#initials[initial] === 1;
  }
}
