import { RandomStream } from "./random-stream.ts";

/**
 * One variable of a Latin hypercube sample: n numbers, one in each of n strips of equal probability, in random order. Variables with
 * other numbers are shuffled independently of it.
 *
 *   u_i = (π(i) + v_i)/n ,   π a random order of 0 … n − 1, v_i between 0 and 1
 *
 * Source: McKay, Beckman, Conover, "A comparison of three methods for selecting values of input variables in the analysis of output
 * from a computer code", Technometrics 21 (1979) 239. The variance of a sample mean is no greater than that of n/(n − 1) plain draws
 * (Owen 1997, from memory, unverified); for a sum of single variables it is far smaller.
 *
 * @param variable a whole number that tells the variable; the same one gives the same numbers
 */
export function latinHypercube(draws: number, seed: number, variable: number): Float64Array {
  const stream = new RandomStream(seed, variable, draws);
  const strips = shuffledStrips(draws, stream);
  return Float64Array.from(strips, (strip) => (strip + stream.next()) / draws);
}

/** 0 … n − 1 in random order (Fisher and Yates, Durstenfeld's form), into an array that may be used again. */
export function shuffledStrips(
  draws: number,
  stream: RandomStream,
  into: Uint32Array = new Uint32Array(draws),
): Uint32Array {
  for (let i = 0; i < draws; i++) {
    const j = Math.floor(stream.next() * (i + 1));
    into[i] = into[j]!;
    into[j] = i;
  }
  return into;
}

/**
 * Value that a part p of the sorted sample lies at or below, between neighbours by straight line.
 *
 *   h = (n − 1)·p ,   x = x_⌊h⌋ + (h − ⌊h⌋)·(x_⌊h⌋₊₁ − x_⌊h⌋)
 *
 * Source: Hyndman and Fan, "Sample quantiles in statistical packages", The American Statistician 50 (1996) 361, definition 7.
 */
export function sampleQuantile(sorted: ArrayLike<number>, p: number): number {
  if (sorted.length === 0 || !(p >= 0 && p <= 1))
    throw new RangeError(
      `sampleQuantile needs a sample and p in 0 … 1, got ${sorted.length} values and ${p}`,
    );
  const h = (sorted.length - 1) * p;
  const at = Math.floor(h);
  const below = sorted[at]!;
  // An infinite neighbour is not reached by a share of the way to it.
  return h === at ? below : below + (h - at) * (sorted[at + 1]! - below);
}
