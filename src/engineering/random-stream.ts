import { RandomBits } from "./random-bits.ts";

/** Seeded random numbers for sampling: the same seed gives the same numbers on every machine. */
export class RandomStream extends RandomBits {
  constructor(seed: number, stream = 0, index = 0) {
    super();
    this.restart(seed, stream, index);
  }

  /** Above 0 and below 1, the middles of steps of 2⁻³²: a logarithm of it is safe. */
  next(): number {
    return (this.bits() + 0.5) / 4_294_967_296;
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
