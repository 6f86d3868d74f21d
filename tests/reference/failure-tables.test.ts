import { describe, expect, it } from "vitest";
import { costOfFailure, type FailureCosts, sumParts } from "../../src/engineering/expected-loss.ts";
import { structuralChance, tabulateStructural } from "../../src/engineering/failure-probability.ts";
import { lnGamma } from "../../src/engineering/incomplete-gamma.ts";
import { fraction } from "../../src/quantity/si.ts";
import { deteriorationSchema, houseDeterioration, wearOf } from "../../src/reference/deterioration.ts";
import { costsOf, failureCostsSchema, houseFailureCosts } from "../../src/reference/failure-costs.ts";
import { failureModesSchema, houseFailureModes } from "../../src/reference/failure-modes.ts";
import type { NetworkWear } from "../../src/season/forecast.ts";

describe("the tables of failure", () => {
  it("fit the formulas that take them", () => {
    const wear: NetworkWear = wearOf(houseDeterioration);
    const costs: FailureCosts = costsOf(houseFailureCosts);
    const table = tabulateStructural(houseFailureModes.structural.byGrade, wear);
    const seen = { grade: 4, yearsSince: 0, poorShare: fraction(0.2) };
    // 1 − 0.34^(1/10), see the failure probability test.
    expect(structuralChance(seen, table, houseFailureModes.reading).best).toBeCloseTo(0.102266, 6);
    // 12 000 + 0.4 × 8 000 + 0.1 × 2 500 dollars.
    expect(sumParts(costOfFailure("structural", "street", 0, costs))).toBeCloseTo(1_545_000, 6);
  });

  it("assume a life whose mean is the published 75 years", () => {
    // Mean of a Weibull life: scale·Γ(1 + 1/shape). West Allis WI 2013, press. The scale has one decimal.
    const { scale, shape } = houseDeterioration.assumedLife;
    expect(scale * Math.exp(lnGamma(1 + 1 / shape))).toBeCloseTo(75, 1);
  });

  it("are refused when they contradict themselves", () => {
    const swapped = { ...houseFailureModes, reading: { ...houseFailureModes.reading, missed: 0.3 } };
    expect(failureModesSchema.safeParse(swapped).success).toBe(false);
    const rows = houseDeterioration.chains[houseDeterioration.chosen]!.rows.with(0, [0.9, 0, 0, 0, 0]);
    const leaky = {
      ...houseDeterioration,
      chains: { [houseDeterioration.chosen]: { source: { document: "x" }, rows } },
    };
    expect(deteriorationSchema.safeParse(leaky).success).toBe(false);
    expect(deteriorationSchema.safeParse({ ...houseDeterioration, chosen: "none" }).success).toBe(false);
    expect(
      failureCostsSchema.safeParse({ ...houseFailureCosts, spill: { cents: 1.5, source: { document: "x" } } })
        .success,
    ).toBe(false);
    expect(failureCostsSchema.safeParse(houseFailureCosts).success).toBe(true);
  });
});
