/**
 * Seeded random numbers: the same seed gives the same numbers on every machine.
 *
 * Generator: sfc32, a small fast counter-based generator with 128 bits of state (32-bit additions, shifts and one
 * rotation; a 32-bit counter in the state makes every cycle at least 2³² long). Good enough to invent a city; of no
 * use for secrets. Only + − × ÷, comparison and square roots are used here and in the model, which IEEE 754 rounds
 * in one way only, so no machine's library of functions can change a byte of the output.
 */
export class Random {
  #a = 0;
  #b = 0;
  #c = 0;
  #counter = 1;

  /**
   * Starts the stream of one thing of the city, such as lateral 17. Each has its own, so it comes out the same
   * whether the things before it were made or not.
   */
  restart(seed: number, stream: number, index: number): this {
    this.#a = seed | 0;
    this.#b = stream | 0;
    this.#c = index | 0;
    this.#counter = 1;
    // Twelve rounds mix the three numbers into all of the state.
    for (let round = 0; round < 12; round++) this.#step();
    return this;
  }

  #step(): number {
    const sum = (((this.#a + this.#b) | 0) + this.#counter) | 0;
    this.#counter = (this.#counter + 1) | 0;
    this.#a = this.#b ^ (this.#b >>> 9);
    this.#b = (this.#c + (this.#c << 3)) | 0;
    this.#c = (((this.#c << 21) | (this.#c >>> 11)) + sum) | 0;
    return sum >>> 0;
  }

  /** At least 0 and below 1, in steps of 2⁻³². */
  next(): number {
    return this.#step() / 4_294_967_296;
  }

  /** A whole number from 0 to `count` − 1. */
  below(count: number): number {
    return Math.floor(this.next() * count);
  }

  between(least: number, most: number): number {
    return least + this.next() * (most - least);
  }

  chance(probability: number): boolean {
    return this.next() < probability;
  }

  /** Bell-shaped: four uniform numbers added, scaled to the spread given. Never beyond 3.5 spreads (2·√3) of the mean. */
  bell(mean: number, spread: number): number {
    return mean + (this.next() + this.next() + this.next() + this.next() - 2) * Math.sqrt(3) * spread;
  }

  pick<T>(things: readonly T[]): T {
    if (things.length === 0) throw new RangeError("pick needs at least one thing");
    return things[this.below(things.length)]!;
  }

  /** One of the keys, as often as its weight says. */
  weigh<Key extends string>(weights: Weights<Key>): Key {
    let total = 0;
    for (const key in weights) total += weights[key] ?? 0;
    if (!(total > 0)) throw new RangeError(`weigh needs a weight above 0, got ${JSON.stringify(weights)}`);
    let left = this.next() * total;
    let last: Key | undefined;
    for (const key in weights) {
      left -= weights[key]!;
      if (left < 0) return key;
      last = key;
    }
    // Only where rounding leaves a last bit over.
    return last!;
  }
}

/** How often each word comes, in parts of whatever they add up to. */
export type Weights<Key extends string> = Readonly<Partial<Record<Key, number>>>;
