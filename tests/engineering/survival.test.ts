import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cohortRenewals, failureWithin, medianLife, survivingShare } from "../../src/engineering/survival.ts";
import { survivalBetween } from "../oracle/hazard.ts";

// Invented parameters; values worked out independently of this program.
const life = { scale: 80, shape: 2.5 };

describe("a Weibull life", () => {
  it.each([
    [0, 1],
    [40, 0.837967],
    [60, 0.614381],
    [80, 0.367879],
  ])("at %d years leaves %d", (age, share) => {
    expect(survivingShare(age, life)).toBeCloseTo(share, 6);
  });

  it("has half gone at 69.09 years", () => {
    expect(medianLife(life)).toBeCloseTo(69.0908, 4);
    expect(survivingShare(medianLife(life), life)).toBeCloseTo(0.5, 12);
  });

  it("fails within 5 years of 60 with probability 0.102298", () => {
    expect(failureWithin(5, 60, life)).toBeCloseTo(0.102298, 6);
  });

  it("is the integral of its hazard", () => {
    const age = fc.double({ min: 0, max: 150, noNaN: true });
    fc.assert(
      fc.property(
        age,
        age,
        fc.double({ min: 20, max: 150, noNaN: true }),
        fc.double({ min: 2, max: 6, noNaN: true }),
        (from, more, scale, shape) => {
          const any = { scale, shape };
          // Simpson on 2000 panels: better than 1e-7 for shapes of 2 and more.
          expect(failureWithin(more, from, any)).toBeCloseTo(
            1 - survivalBetween(from, from + more, scale, shape),
            6,
          );
          expect(survivingShare(from, any)).toBeCloseTo(survivalBetween(0, from, scale, shape), 6);
        },
      ),
    );
  });

  it("keeps a small chance exact, where a difference of shares would not", () => {
    // Hazard 2.5/80·(0.01/80)^1.5 is about 4.4e-8 a year: the chance within 1e-6 years is that times 1e-6 to first order.
    expect(failureWithin(1e-6, 0.01, life) / ((2.5 / 80) * (0.01 / 80) ** 1.5 * 1e-6)).toBeCloseTo(1, 3);
  });

  it("renews a cohort once: all years add up to what has failed", () => {
    const renewals = cohortRenewals(1000, 100, life);
    expect(renewals).toHaveLength(100);
    // Hand calculation for year 1: 1000 × (1 − exp(−(1/80)^2.5)) = 0.01747.
    expect(renewals[0]).toBeCloseTo(0.01747, 5);
    const sum = renewals.reduce((total, n) => total + n, 0);
    expect(sum).toBeCloseTo(1000 * (1 - survivingShare(100, life)), 9);
  });

  it("refuses a life without length and an age before birth", () => {
    expect(() => survivingShare(1, { scale: 0, shape: 2 })).toThrow("0 years, 2");
    expect(() => survivingShare(-1, life)).toThrow("-1");
    expect(() => failureWithin(-1, 5, life)).toThrow("-1");
    expect(() => cohortRenewals(10, 2.5, life)).toThrow("2.5");
  });
});
