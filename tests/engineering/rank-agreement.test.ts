import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { kendallTauB, spearmanRho, topOverlap } from "../../src/engineering/rank-agreement.ts";
import { rhoByCounting, tauByPairs } from "../oracle/rank-pairs.ts";

// Intelligence quotient and hours of television a week, ten people: the standard encyclopaedia example.
const quotient = [106, 100, 86, 101, 99, 103, 97, 113, 112, 110];
const hours = [7, 27, 2, 50, 28, 29, 20, 12, 6, 17];

describe("Kendall's tau-b", () => {
  it("of the example in the SciPy 1.17.1 documentation is −0.4714", () => {
    // Printed −0.47140452079103173; one bit is allowed for the order of the divisions.
    expect(kendallTauB([12, 2, 1, 12, 2], [1, 4, 7, 1, 0])).toBeCloseTo(-0.47140452079103173, 15);
  });

  it("of ten people's quotients and hours is −1/9", () => {
    // Counted by hand: 20 agreeing and 25 disagreeing pairs of 45.
    expect(kendallTauB(quotient, hours)).toBeCloseTo(-1 / 9, 15);
  });

  it("is what looking at every pair gives, ties and all", () => {
    const scores = fc.array(fc.tuple(fc.integer({ min: -4, max: 4 }), fc.integer({ min: 0, max: 20 })), {
      maxLength: 60,
    });
    fc.assert(
      fc.property(scores, (pairs) => {
        const x = pairs.map(([a]) => a);
        const y = pairs.map(([, b]) => b);
        expect(kendallTauB(x, y)).toBe(tauByPairs(x, y));
      }),
      { numRuns: 500 },
    );
  });

  it("is exactly 1 with itself and −1 with its reverse", () => {
    const ranks = Array.from({ length: 1000 }, (_, i) => (i * 7919) % 1009);
    const reversed = ranks.map((r) => -r);
    expect(kendallTauB(ranks, ranks)).toBe(1);
    expect(kendallTauB(ranks, reversed)).toBe(-1);
  });

  it("of one score for all is undefined", () => {
    expect(kendallTauB([1, 1, 1], [1, 2, 3])).toBeNull();
    expect(kendallTauB([], [])).toBeNull();
  });

  it("refuses missing scores", () => {
    expect(() => kendallTauB([1, Number.NaN], [1, 2])).toThrow("item 1");
    expect(() => kendallTauB([1], [1, 2])).toThrow("1 and 2");
  });
});

describe("Spearman's rho", () => {
  it("of ten people's quotients and hours is −29/165", () => {
    // Printed: Σd² = 194, 1 − 6 × 194/(10 × 99) = −29/165.
    expect(spearmanRho(quotient, hours)).toBeCloseTo(-29 / 165, 15);
  });

  it("of [1 … 5] and [5, 6, 7, 8, 7] is 0.8208", () => {
    // SciPy documentation, from memory, recomputed: ranks 1, 2, 3.5, 5, 3.5 give 8/√(10 × 9.5).
    expect(spearmanRho([1, 2, 3, 4, 5], [5, 6, 7, 8, 7])).toBeCloseTo(0.8207826816681233, 14);
  });

  it("is what counting ranks gives, ties and all", () => {
    const scores = fc.array(fc.tuple(fc.integer({ min: -4, max: 4 }), fc.integer({ min: 0, max: 20 })), {
      minLength: 1,
      maxLength: 40,
    });
    fc.assert(
      fc.property(scores, (pairs) => {
        const x = pairs.map(([a]) => a);
        const y = pairs.map(([, b]) => b);
        const counted = rhoByCounting(x, y);
        if (counted === null) expect(spearmanRho(x, y)).toBeNull();
        else expect(spearmanRho(x, y)).toBeCloseTo(counted, 9);
      }),
    );
  });
});

describe("overlap of two tops", () => {
  it("counts what both lists would fund", () => {
    expect(topOverlap(["a", "b", "c", "d"], ["c", "a", "e", "b"], 3)).toBe(2 / 3);
    expect(topOverlap(["a", "b"], ["b", "a"], 2)).toBe(1);
    expect(topOverlap(["a", "b"], ["c", "d"], 1)).toBe(0);
  });

  it("refuses a top longer than a list", () => {
    expect(() => topOverlap(["a"], ["a", "b"], 2)).toThrow("2 of 1 and 2");
  });
});
