/** Recognises the cell that names a total or subtotal row: `Subtotal LS-14`, `TOTAL:`. */
export class TotalWords {
  readonly #words: readonly string[];
  readonly #initials: ReadonlySet<string>;

  constructor(words: readonly string[]) {
    this.#words = words.map((word) => word.toLowerCase());
    this.#initials = new Set(this.#words.flatMap((word) => [word.charAt(0), word.charAt(0).toUpperCase()]));
  }

  /** Whether the cell begins with such a word, followed by nothing, a space or a colon: an id `SUM-12` does not. */
  begins(text: string): boolean {
    if (!this.#initials.has(text.charAt(0))) return false;
    const lower = text.toLowerCase();
    return this.#words.some(
      (word) =>
        lower.startsWith(word) && (lower.length === word.length || /[\s:]/.test(lower.charAt(word.length))),
    );
  }
}
