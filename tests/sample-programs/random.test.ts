import { describe, expect, it } from "vitest";
import { Random } from "../../sample-programs/random.ts";

/** sfc32 again, by whole numbers of any size and remainders of 2³²: no shift or sign of 32-bit arithmetic in it. */
function sfc32ByRemainders(seed: bigint, stream: bigint, index: bigint, count: number): bigint[] {
  const word = 2n ** 32n;
  let [a, b, c, counter] = [seed, stream, index, 1n];
  const numbers: bigint[] = [];
  for (let i = 0; i < 12 + count; i++) {
    const sum = (a + b + counter) % word;
    counter = (counter + 1n) % word;
    a = b ^ (b / 2n ** 9n);
    b = (c * 9n) % word;
    c = ((c * 2n ** 21n) % word) + c / 2n ** 11n;
    c = (c + sum) % word;
    if (i >= 12) numbers.push(sum);
  }
  return numbers;
}

describe("the generator of random numbers", () => {
  it("is sfc32: the same numbers come from its definition in whole numbers", () => {
    for (const [seed, stream, index] of [
      [1, 2, 3],
      [2026, 1, 5_000_001],
      [2 ** 31 - 1, 4, 9_999_999],
    ] as const) {
      const random = new Random().restart(seed, stream, index);
      const drawn = Array.from({ length: 200 }, () => BigInt(random.next() * 2 ** 32));
      expect(drawn).toEqual(sfc32ByRemainders(BigInt(seed), BigInt(stream), BigInt(index), 200));
    }
  });

  it("starts a stream afresh whatever was drawn before", () => {
    const random = new Random().restart(7, 1, 1);
    const first = random.next();
    random.next();
    expect(random.restart(7, 1, 1).next()).toBe(first);
    expect(random.restart(7, 1, 2).next()).not.toBe(first);
    expect(random.restart(7, 2, 1).next()).not.toBe(first);
    expect(random.restart(8, 1, 1).next()).not.toBe(first);
  });

  it("is even across the first numbers of neighbouring streams, which is how laterals use it", () => {
    const random = new Random();
    const tenths = new Array<number>(10).fill(0);
    const draws = 100_000;
    for (let i = 0; i < draws; i++) tenths[Math.floor(random.restart(1, 2, i).next() * 10)]! += 1;
    // Each tenth is binomial, standard deviation √(n·0.1·0.9) = 95; five of them is one chance in two million.
    for (const count of tenths) expect(Math.abs(count - draws / 10)).toBeLessThan(5 * 95);
  });

  it("draws a bell of the mean and spread asked for, with no far tail", () => {
    const random = new Random().restart(3, 3, 3);
    const values = Array.from({ length: 50_000 }, () => random.bell(10, 2));
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const spread = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
    // Standard error of the mean 2/√50000 = 0.009; of the spread about 0.006. Five of each.
    expect(Math.abs(mean - 10)).toBeLessThan(0.045);
    expect(Math.abs(spread - 2)).toBeLessThan(0.032);
    // Four uniforms reach at most 2 from their mean: 2·√3·spread = 6.93.
    for (const value of values) expect(Math.abs(value - 10)).toBeLessThanOrEqual(6.93);
  });

  it("weighs words by their parts and never gives one of weight 0", () => {
    const random = new Random().restart(5, 5, 5);
    const counts = { seldom: 0, never: 0, often: 0 };
    for (let i = 0; i < 40_000; i++) counts[random.weigh({ seldom: 1, never: 0, often: 3 })] += 1;
    expect(counts.never).toBe(0);
    // Binomial, n = 40000, p = 1/4: standard deviation 87; five of them.
    expect(Math.abs(counts.seldom - 10_000)).toBeLessThan(433);
  });

  it("refuses weights that leave nothing to choose", () => {
    expect(() => new Random().weigh({ nothing: 0 })).toThrow(/above 0/);
  });
});
