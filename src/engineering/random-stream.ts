/**
 * Seeded random numbers for sampling: the same seed gives the same numbers on every machine.
 *
 * Generator: sfc32, a small fast counter generator with 128 bits of state (32-bit additions, shifts and one rotation; the counter in
 * the state makes every cycle at least 2³² long; published by its author with the PractRand test suite, which it passes: from
 * memory). Good for sampling; of no use for secrets.
 */
export class RandomStream {
  #a = 0;
  #b = 0;
  #c = 0;
  #counter = 1;

  constructor(seed: number, stream = 0, index = 0) {
    this.restart(seed, stream, index);
  }

  /**
   * Starts the stream of one thing, such as the 17th draw of the 400th lateral. Each has its own, so it comes out the same whatever is
   * drawn before it and in whatever order.
   *
   * @param seed whole numbers all three, of 32 bits: higher bits are dropped
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

  /** Above 0 and below 1, the middles of steps of 2⁻³²: a logarithm of it is safe. */
  next(): number {
    return (this.#step() + 0.5) / 4_294_967_296;
  }

  /** Between two values, all alike likely. */
  between(least: number, most: number): number {
    return least + this.next() * (most - least);
  }

  /**
   * Triangular: from least to most, likeliest at best; its distribution turned around. Least = best = most gives that value.
   *
   *   F(best) = f = (best − least)/(most − least) ;   u < f: least + √(u·w·(best − least)), else most − √((1 − u)·w·(most − best))
   */
  triangular(least: number, best: number, most: number): number {
    if (!(least <= best && best <= most))
      throw new RangeError(`triangular needs ${least} ≤ ${best} ≤ ${most}`);
    const u = this.next();
    const width = most - least;
    if (width === 0) return best;
    return u * width < best - least
      ? least + Math.sqrt(u * width * (best - least))
      : most - Math.sqrt((1 - u) * width * (most - best));
  }

  /** True with this probability. */
  chance(probability: number): boolean {
    return this.next() < probability;
  }
}
