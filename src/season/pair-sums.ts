/**
 * Sums over pairs of codes, of a district and a bid line. Looked up by name in a map and put back there for each of the two million lines of a
 * million laterals, they took half of the time of the totals and of the breakdown.
 */
export class PairSums {
  readonly #sums: number[][] = [];
  readonly #met: (readonly [first: number, second: number])[] = [];

  add(first: number, second: number, amount: number): void {
    this.#sums[first] ??= [];
    const sums = this.#sums[first];
    const before = sums[second];
    if (before === undefined) this.#met.push([first, second]);
    sums[second] = (before ?? 0) + amount;
  }

  /** Each pair with its sum, in the order in which they were first met. */
  *[Symbol.iterator](): Generator<readonly [first: number, second: number, sum: number]> {
    for (const [first, second] of this.#met) yield [first, second, this.#sums[first]![second]!];
  }
}
