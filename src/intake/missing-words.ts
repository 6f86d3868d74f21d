/** Cells that say that nothing is known, compared without case: `N/A`, `<Null>`, `-`. */
export class MissingWords {
  readonly #words: ReadonlySet<string>;
  readonly #longest: number;
  /** 1 for the first letters of the words: most cells are told apart by theirs. */
  readonly #initials = new Uint8Array(0x10000);

  constructor(words: readonly string[]) {
    this.#words = new Set(words.map((word) => word.toLowerCase()));
    this.#longest = Math.max(0, ...words.map((word) => word.length));
    for (const word of words) {
      this.#initials[word.toLowerCase().charCodeAt(0)] = 1;
      this.#initials[word.toUpperCase().charCodeAt(0)] = 1;
    }
  }

  /** @param text trimmed; an empty cell is missing too */
  has(text: string): boolean {
    const n = text.length;
    if (n === 0) return true;
    return (
      n <= this.#longest && this.#initials[text.charCodeAt(0)] === 1 && this.#words.has(text.toLowerCase())
    );
  }
}
