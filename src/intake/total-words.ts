/** Recognises the cell that names a total or subtotal row: `Subtotal LS-14`, `TOTAL:`. */
export class TotalWords {
  readonly #words: readonly string[];
  /** 1 for the first letters of the words: most cells are told apart by theirs. */
  readonly #initials = new Uint8Array(0x10000);

  constructor(words: readonly string[]) {
    this.#words = words.map((word) => word.toLowerCase());
    for (const word of this.#words) {
      this.#initials[word.charCodeAt(0)] = 1;
      this.#initials[word.charAt(0).toUpperCase().charCodeAt(0)] = 1;
    }
  }

  /** Whether some word begins with this letter. */
  mayBegin(initial: number): boolean {
    return this.#initials[initial] === 1;
  }

  /** Whether the cell begins with such a word, followed by nothing, a space or a colon: an id `SUM-12` does not. */
  begins(text: string): boolean {
    if (!this.mayBegin(text.charCodeAt(0))) return false;
    const lower = text.toLowerCase();
    return this.#words.some(
      (word) =>
        lower.startsWith(word) && (lower.length === word.length || /[\s:]/.test(lower.charAt(word.length))),
    );
  }
}
