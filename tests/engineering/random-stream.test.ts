import { describe, expect, it } from "vitest";
import { RandomStream } from "../../src/engineering/random-stream.ts";

describe("a random stream", () => {
  it("gives the same numbers for the same seed, on any machine", () => {
    // The generator written a second time, in another language, gives these.
    const stream = new RandomStream(1);
    const first = [stream.next(), stream.next(), stream.next()];
    expect(first).toEqual([0.10286284948233515, 0.14306216884870082, 0.38285007106605917]);
    expect([stream.restart(1, 0, 0).next(), stream.next(), stream.next()]).toEqual(first);
  });

  it("gives each thing its own numbers, whatever was drawn before", () => {
    const stream = new RandomStream(7);
    for (let i = 0; i < 100; i++) stream.next();
    expect(stream.restart(7, 3, 5).next()).toBe(new RandomStream(7, 3, 5).next());
    const starts = new Set<number>();
    for (let thing = 0; thing < 100; thing++)
      for (let draw = 0; draw < 100; draw++) starts.add(stream.restart(7, thing, draw).next());
    // Ten thousand 32-bit numbers: 0.01 pairs alike by chance.
    expect(starts.size).toBe(10_000);
  });

  it("is even over 0 … 1 and from one number to the next, and from one stream to the next", () => {
    const stream = new RandomStream(3);
    const n = 100_000;
    for (const draw of [
      () => stream.next(),
      (
        (i) => () =>
          stream.restart(3, i++, 2).next()
      )(0),
    ]) {
      const bins = new Array<number>(20).fill(0);
      let lagged = 0;
      let last = 0.5;
      for (let k = 0; k < n; k++) {
        const u = draw();
        expect(u > 0 && u < 1).toBe(true);
        bins[Math.floor(u * 20)]!++;
        lagged += (u - 0.5) * (last - 0.5);
        last = u;
      }
      // χ² with 19 degrees of freedom: 43.8 is passed once in a thousand.
      const expected = n / 20;
      expect(bins.reduce((sum, k) => sum + (k - expected) ** 2 / expected, 0)).toBeLessThan(43.8);
      // Correlation 12·mean: standard error 1/√n; four of them.
      expect(Math.abs((12 * lagged) / n)).toBeLessThan(4 / Math.sqrt(n));
    }
  });

  it("draws triangles with the right mean and spread, and a certain value exactly", () => {
    const stream = new RandomStream(5);
    const n = 100_000;
    let sum = 0;
    let squares = 0;
    for (let k = 0; k < n; k++) {
      const x = stream.triangular(1, 2, 6);
      expect(x >= 1 && x <= 6).toBe(true);
      sum += x;
      squares += x * x;
    }
    // Mean (1 + 2 + 6)/3 = 3; variance (1 + 4 + 36 − 2 − 6 − 12)/18 = 7/6. Four standard errors of the mean, 2 % of the variance.
    expect(Math.abs(sum / n - 3)).toBeLessThan(4 * Math.sqrt(7 / 6 / n));
    expect(squares / n - (sum / n) ** 2).toBeCloseTo(7 / 6, 1);
    expect(stream.triangular(2, 2, 2)).toBe(2);
    expect(() => stream.triangular(2, 1, 3)).toThrow("2 ≤ 1 ≤ 3");
    expect(stream.between(4, 4)).toBe(4);
  });
});
