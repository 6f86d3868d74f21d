import { RandomBits } from "../src/engineering/random-bits.ts";

/**
 * Seeded random numbers to invent a city from: the same seed gives the same numbers on every machine. Only + − × ÷, comparison and square
 * roots are used here and in the model, which IEEE 754 rounds in one way only, so no machine's library of functions can change
 * a byte of the output. Each thing of the city, such as lateral 17, has a stream of its own.
 */
export class Random extends RandomBits {
  /** At least 0 and below 1, in steps of 2⁻³². */
  next(): number {
    return this.bits() / 4_294_967_296;
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
