/**
 * Seeded random bits: the same seed gives the same bits on every machine.
 *
 * Generator: sfc32, a small fast counter generator with 128 bits of state (32-bit additions, shifts and one rotation; the counter in
 * the state makes every cycle at least 2³² long; published by its author with the PractRand test suite, which it passes: from
 * memory). Good for sampling; of no use for secrets.
 */
export class RandomBits {
  #a = 0;
  #b = 0;
  #c = 0;
  #counter = 1;

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
    for (let round = 0; round < 12; round++) this.bits();
    return this;
  }

  /** A whole number of 32 bits, from 0 to 2³² − 1. */
  bits(): number {
    const sum = (((this.#a + this.#b) | 0) + this.#counter) | 0;
    this.#counter = (this.#counter + 1) | 0;
    this.#a = this.#b ^ (this.#b >>> 9);
    this.#b = (this.#c + (this.#c << 3)) | 0;
    this.#c = (((this.#c << 21) | (this.#c >>> 11)) + sum) | 0;
    return sum >>> 0;
  }
}
