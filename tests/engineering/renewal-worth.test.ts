import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { renewalWorth } from "../../src/engineering/renewal-worth.ts";
import { fraction } from "../../src/quantity/si.ts";

describe("renewalWorth", () => {
  it("is the cost itself when one life is the horizon", () => {
    expect(renewalWorth(4200, 50, 50, fraction(0.03))).toBe(4200);
  });

  it("adds renewals and takes off what is left, by hand", () => {
    // 1,000 at years 0 and 30 of 50 at 3 %: 1000 + 1000/1.03^30 − 1000·(10/30)/1.03^50
    // = 1000 + 411.987 − 333.333·0.228107 = 1335.951.
    expect(renewalWorth(1000, 30, 50, fraction(0.03))).toBeCloseTo(1335.951, 2);
    // At no interest it is the share of lives used: 50/30.
    expect(renewalWorth(1000, 30, 50, fraction(0))).toBeCloseTo(1666.667, 3);
  });

  it("takes off a third of a 75-year pipe at 50 years", () => {
    // 9000 − 3000/1.03^50 = 9000 − 684.32.
    expect(renewalWorth(9000, 75, 50, fraction(0.03))).toBeCloseTo(8315.68, 2);
  });

  it("falls as the life grows, and at no interest equals cost × horizon ÷ life", () => {
    const life = fc.double({ min: 1, max: 100, noNaN: true });
    fc.assert(
      fc.property(life, fc.integer({ min: 1, max: 100 }), (years, horizon) => {
        expect(renewalWorth(100, years, horizon, fraction(0))).toBeCloseTo((100 * horizon) / years, 6);
        expect(renewalWorth(100, years, horizon, fraction(0.04))).toBeGreaterThan(0);
      }),
    );
  });

  it("refuses a life of nothing instead of renewing for ever", () => {
    expect(() => renewalWorth(1, 0, 50, fraction(0.03))).toThrow(RangeError);
  });
});
