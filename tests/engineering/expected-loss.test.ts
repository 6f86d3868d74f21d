import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../shared/failure-costs.json" with { type: "json" };
import { surfaces } from "../../src/columns/lateral-columns.ts";
import {
  asYearly,
  costOfFailure,
  expectedAnnualLoss,
  type FailureCosts,
  presentOfDoingNothing,
  presentOfFirstFailure,
  sumParts,
  survivingAt,
} from "../../src/engineering/expected-loss.ts";
import { presentOfAnnual } from "../../src/engineering/present-worth.ts";
import { survivingShare } from "../../src/engineering/survival.ts";
import { cents, fraction } from "../../src/quantity/si.ts";

const sure = (p: number) => ({ least: p, best: p, most: p });
const costs: FailureCosts = {
  digUp: { street: cents(1_200_000), yard: cents(600_000) },
  backupClaim: cents(800_000),
  spill: cents(250_000),
  clearing: cents(40_000),
  backsUp: { structural: fraction(0.4), blockage: fraction(0.5) },
  spills: { structural: fraction(0.1), blockage: fraction(0.1) },
};

describe("the cost of a failure", () => {
  it("in a street is the dig-up with its share of claims and spills", () => {
    // Hand calculation: 12 000 + 0.4 × 8 000 + 0.1 × 2 500 = 15 450.
    const parts = costOfFailure("structural", "street", 0, costs);
    expect(parts.map(({ what }) => what)).toEqual(["emergency dig-up", "backup claim", "spill"]);
    expect(sumParts(parts)).toBeCloseTo(1_545_000, 6);
    // 400 + 0.5 × 8 000 + 0.1 × 2 500 = 4 650; infiltration costs its treatment.
    expect(sumParts(costOfFailure("blockage", "street", 0, costs))).toBeCloseTo(465_000, 6);
    expect(sumParts(costOfFailure("infiltration", "street", 1234, costs))).toBe(1234);
  });

  it("is dearer in a street than in a yard, and refuses a surface without a price", () => {
    const at = (surface: string) => sumParts(costOfFailure("structural", surface, 0, costs));
    expect(at("street") - at("yard")).toBeCloseTo(600_000, 6);
    expect(() => at("river")).toThrow('"river"');
  });

  it("has a dig-up price for every surface in the shipped table, between the published ends but for the railway", () => {
    // West Allis WI 2013, press: $6,000 to $12,000, one case $30,000.
    const prices = table.digUp.bySurface;
    expect(Object.keys(prices).sort()).toEqual([...surfaces].sort());
    for (const [surface, price] of Object.entries(prices))
      if (surface === "railway") expect(price).toBe(3_000_000);
      else expect(price >= 600_000 && price <= 1_200_000).toBe(true);
  });
});

describe("the expected loss of a year", () => {
  it("of one in ten times $150,000 is $15,000", () => {
    // Invented numbers, the textbook formula Σ P·C.
    const loss = expectedAnnualLoss(
      { structural: sure(0.1), blockage: sure(0), infiltration: sure(0) },
      { structural: 15_000_000, blockage: 0, infiltration: 0 },
    );
    expect(loss.best).toBe(1_500_000);
  });

  it("adds the modes, each with its own chance and cost, and its bounds", () => {
    const loss = expectedAnnualLoss(
      {
        structural: { least: 0.01, best: 0.02, most: 0.05 },
        blockage: { least: 0.1, best: 0.2, most: 0.4 },
        infiltration: sure(1),
      },
      { structural: 1_000_000, blockage: 50_000, infiltration: 7_000 },
    );
    // 10 000 + 5 000 + 7 000; 20 000 + 10 000 + 7 000; 50 000 + 20 000 + 7 000.
    expect(loss.least).toBeCloseTo(22_000, 6);
    expect(loss.best).toBeCloseTo(37_000, 6);
    expect(loss.most).toBeCloseTo(77_000, 6);
  });

  it("rises with every chance", () => {
    const p = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(p, p, p, p, (a, b, c, more) => {
        const at = (structural: number) =>
          expectedAnnualLoss(
            { structural: sure(structural), blockage: sure(b), infiltration: sure(c) },
            { structural: 1_500_000, blockage: 400_000, infiltration: 9_000 },
          ).best;
        expect(at(Math.max(a, more))).toBeGreaterThanOrEqual(at(Math.min(a, more)));
      }),
    );
  });

  it("refuses what is no probability and no cost", () => {
    const none = { structural: 0, blockage: 0, infiltration: 0 };
    expect(() =>
      expectedAnnualLoss({ structural: sure(1.2), blockage: sure(0), infiltration: sure(0) }, none),
    ).toThrow("1.2");
    expect(() =>
      expectedAnnualLoss(
        { structural: sure(0), blockage: sure(0), infiltration: sure(0) },
        { ...none, blockage: -1 },
      ),
    ).toThrow("got -1");
    for (const mode of ["structural", "blockage", "infiltration"] as const) {
      const chances = { structural: sure(0), blockage: sure(0), infiltration: sure(0), [mode]: sure(-0.1) };
      expect(() => expectedAnnualLoss(chances, none)).toThrow(`the chance of ${mode} failure`);
    }
  });
});

describe("the present worth of failures", () => {
  const four = fraction(0.04);

  it("of one that comes some time is summed year by year", () => {
    // Hand calculation at 10 %: S = 1, 0.9, 0.72: 0.1 × 1000/1.1 + 0.18 × 1000/1.21 = 90.909 + 148.760 = 239.669.
    expect(presentOfFirstFailure(1000, [1, 0.9, 0.72], fraction(0.1))).toBeCloseTo(239.669, 3);
  });

  it("at one chance a year is the geometric sum", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 0.9, noNaN: true }),
        fc.integer({ min: 1, max: 60 }),
        (p, years) => {
          const ratio = (1 - p) / 1.04;
          const closed = ((p * 1000) / 1.04) * ((1 - ratio ** years) / (1 - ratio));
          const found = presentOfFirstFailure(1000, survivingAt(fraction(p), years), four);
          expect(found / closed).toBeCloseTo(1, 10);
        },
      ),
    );
  });

  it("without interest is the chance of failing at all, times the cost", () => {
    const surviving = Array.from({ length: 41 }, (_, t) => survivingShare(t, { scale: 80, shape: 2.5 }));
    // S(40) = 0.837967, see the survival test.
    expect(presentOfFirstFailure(1000, surviving, fraction(0))).toBeCloseTo(162.033, 3);
  });

  it("as a yearly amount pays for itself", () => {
    const present = 500 * presentOfAnnual(four, 20);
    // P/A at 4 %, 20 years: 13.5903, compound interest tables.
    expect(present).toBeCloseTo(6795.16, 2);
    expect(asYearly(present, 20, four)).toBeCloseTo(500, 9);
  });

  it("of doing nothing counts breaking once and blocking and leaking every year", () => {
    const chances = { structural: sure(0.05), blockage: sure(0.2), infiltration: sure(0.5) };
    const cost = { structural: 1_500_000, blockage: 400_000, infiltration: 9_000 };
    const found = presentOfDoingNothing(chances, cost, 20, four).best;
    const expected =
      presentOfFirstFailure(1_500_000, survivingAt(fraction(0.05), 20), four) + 84_500 * 13.590326345;
    // 0.2 × 400 000 + 0.5 × 9 000 = 84 500 a year.
    expect(found / expected).toBeCloseTo(1, 9);
  });

  it("refuses lives that come back", () => {
    expect(() => presentOfFirstFailure(1, [1, 0.5, 0.6], four)).toThrow("0.5 then 0.6 in year 2");
    expect(() => survivingAt(fraction(1.5), 3)).toThrow("1.5");
    expect(() => presentOfFirstFailure(-1, [1, 0.5], four)).toThrow("got -1");
  });
});
