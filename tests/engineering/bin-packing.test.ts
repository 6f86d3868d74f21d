import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lowerBoundL2, packBins } from "../../src/engineering/bin-packing.ts";
import { RandomStream } from "../../src/engineering/random-stream.ts";
import { fewestBins } from "../oracle/fewest-bins.ts";

/** Every item in one bin, and no bin over its capacity. */
function verifyPacking(bins: readonly (readonly number[])[], sizes: readonly number[], capacity: number) {
  expect(bins.flat().sort((a, b) => a - b)).toEqual(sizes.map((_, i) => i));
  for (const bin of bins)
    expect(bin.reduce((sum, item) => sum + sizes[item]!, 0)).toBeLessThanOrEqual(capacity);
}

describe("packing into bins", () => {
  it("is never worse than every way tried, says exact only when it is, and its bound holds", () => {
    const cases = fc.tuple(
      fc.array(fc.integer({ min: 1, max: 30 }), { maxLength: 9 }),
      fc.integer({ min: 30, max: 60 }),
    );
    fc.assert(
      fc.property(cases, ([sizes, capacity]) => {
        const { bins, lowerBound, exact } = packBins(sizes, capacity);
        verifyPacking(bins, sizes, capacity);
        const fewest = fewestBins(sizes, capacity);
        expect(bins).toHaveLength(fewest);
        expect(exact).toBe(true);
        expect(lowerBound).toBeLessThanOrEqual(fewest);
        expect(lowerBoundL2(sizes, capacity)).toBeLessThanOrEqual(fewest);
      }),
      { numRuns: 500 },
    );
  });

  it.each([
    [10, 1],
    [20, 2],
    [20, 3],
    [40, 4],
  ])("fills %d shifts of 480 min exactly with triplets (Falkenauer, 1996), draw %d", (bins, seed) => {
    // By construction: three visits fill a shift, the first 182 to 240 min, the second at least 120, the rest the third.
    const stream = new RandomStream(seed);
    const next = () => stream.next();
    const whole = (from: number, to: number) => from + Math.floor(next() * (to - from + 1));
    const sizes = Array.from({ length: bins }, () => {
      const first = whole(182, 240);
      const second = whole(120, Math.floor((480 - first) / 2));
      return [first, second, 480 - first - second];
    }).flat();
    const shuffled = sizes.map((size) => [next(), size] as const).sort(([a], [b]) => a - b);
    const mixed = shuffled.map(([, size]) => size);
    const packing = packBins(mixed, 480, 2_000_000);
    verifyPacking(packing.bins, mixed, 480);
    expect(packing.lowerBound).toBe(bins);
    expect(packing.bins).toHaveLength(bins);
    expect(packing.exact).toBe(true);
  });

  it("keeps what lies together in one bin where that needs no more bins", () => {
    // Two bins are needed; in the order given they are 50 + 50 and 60 + 40, best fit decreasing would give 60 + 40 first.
    expect(packBins([50, 50, 60, 40], 100).bins).toEqual([
      [0, 1],
      [2, 3],
    ]);
  });

  it("has a bound above the plain sum where large items cannot share", () => {
    // Three of 60 in bins of 100: the sum is 180, two bins by the sum, three because no two fit.
    expect(lowerBoundL2([60, 60, 60], 100)).toBe(3);
  });

  it("refuses an item that fits no bin, and one that is no whole number", () => {
    expect(() => packBins([101], 100)).toThrow("an item of 101 in bins of 100");
    expect(() => packBins([1.5], 100)).toThrow("an item of 1.5");
  });
});
