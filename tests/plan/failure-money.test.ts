import { describe, expect, it } from "vitest";
import { seasonalFlow, yearlyMean } from "../../src/engineering/infiltration.ts";
import { moneyOf } from "../../src/plan/failure-money.ts";
import { stated } from "../../src/plan/stated.ts";
import { cents, fraction, litresPerSecond } from "../../src/quantity/si.ts";
import { houseFailureCosts } from "../../src/reference/failure-costs.ts";
import { city, usBasis } from "./examples.ts";

const sure = (p: number) => stated({ least: fraction(p), best: fraction(p), most: fraction(p) }, "estimated");
const chances = { structural: sure(0.02), blockage: sure(0.1), infiltration: sure(0.25) };
const allYear = (litres: number) => yearlyMean([{ flow: seasonalFlow(litresPerSecond(litres)), days: 365 }]);
const source = { document: "Invented", note: "for this test" };
const basis = {
  ...usBasis,
  failureCosts: {
    ...houseFailureCosts,
    digUp: {
      source,
      bySurface: { ...houseFailureCosts.digUp.bySurface, street: cents(1_200_000), yard: cents(600_000) },
    },
    backupClaim: { source, cents: cents(800_000) },
    spill: { source, cents: cents(250_000) },
    clearing: { source, cents: cents(40_000) },
    backsUp: { source, structural: fraction(0.4), blockage: fraction(0.5) },
    spills: { source, structural: fraction(0.1), blockage: fraction(0.2) },
    treatment: { source, centsPerCubicMetre: 79 },
  },
};
const street = { surface: city("street" as const) };

describe("what failures of a lateral cost", () => {
  it("is the sum of their parts, each at its chance: by hand under a street", () => {
    const { costs, parts } = moneyOf(street, chances, allYear(0.001), basis)!;
    // 12,000 + 0.4 · 8,000 + 0.1 · 2,500; 400 + 0.5 · 8,000 + 0.2 · 2,500.
    expect(costs.structural).toBeCloseTo(1_545_000, 6);
    expect(costs.blockage).toBeCloseTo(490_000, 6);
    // 0.001 L/s · 86,400 s · 365 d = 31.536 m³ at 0.79 are 24.91344 a year of four times as much when it leaks.
    expect(costs.infiltration).toBeCloseTo(4 * 2_491.344, 6);
    expect(parts.blockage.map(({ what, times }) => [what, times])).toEqual([
      ["clearing", 1],
      ["backup claim", 0.5],
      ["spill", 0.2],
    ]);
  });

  it("is in a year what each costs at its chance, and of clear water what is expected of it", () => {
    const { annualLoss } = moneyOf(street, chances, allYear(0.001), basis)!;
    // 0.02 · 15,450 + 0.1 · 4,900 + 24.91344.
    expect(annualLoss.best).toBeCloseTo(30_900 + 49_000 + 2_491.344, 6);
  });

  it("goes with what lies over the pipe, and is the same for all laterals under it", () => {
    const yard = { surface: city("yard" as const) };
    const cost = (of: typeof street | typeof yard) => moneyOf(of, chances, null, basis)!.costs;
    expect(cost(yard).structural).toBeCloseTo(945_000, 6);
    expect(cost(street).structural).toBeCloseTo(1_545_000, 6);
    expect(cost(yard).blockage).toBe(cost(street).blockage);
  });

  it("leaves clear water out where its amount is not known or nothing can leak, and is none without a table", () => {
    expect(moneyOf(street, chances, null, basis)?.costs.infiltration).toBe(0);
    const tight = { ...chances, infiltration: sure(0) };
    expect(moneyOf(street, tight, allYear(0), basis)?.costs.infiltration).toBe(0);
    expect(moneyOf(street, chances, null, { ...basis, failureCosts: null })).toBeNull();
  });
});
