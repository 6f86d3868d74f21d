import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { measuredOvality, ovalityReduction } from "../../src/engineering/ovality.ts";
import { fraction, millimetres } from "../../src/quantity/si.ts";
import { ovalityFactor } from "../oracle/liner-wall-us.ts";
import { ovalityTable } from "./published-tables.ts";
import { percent } from "./us-inputs.ts";

describe("ovality reduction factor", () => {
  // W5: "Trenchless Technology Piping", 2010, Table 2.9, eight values printed to two places.
  it.each(ovalityTable)("at %d %% is %d as published", (q, published) => {
    expect(Math.abs(ovalityReduction(percent(q)) - published)).toBeLessThanOrEqual(0.005);
  });

  it("agrees with the percent form", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 10, noNaN: true }), (q) => {
        expect(ovalityReduction(percent(q))).toBeCloseTo(ovalityFactor(q), 12);
      }),
    );
  });

  it("falls as the pipe gets less round", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 0.099, noNaN: true }), (q) => {
        expect(ovalityReduction(fraction(q + 0.001))).toBeLessThan(ovalityReduction(fraction(q)));
      }),
    );
  });
});

describe("measured ovality", () => {
  it("takes the larger of the two forms and says which", () => {
    // By hand: (106 − 102)/102 = 3.92 %, (102 − 99)/102 = 2.94 %.
    const wide = measuredOvality(millimetres(106), millimetres(99), millimetres(102));
    expect(wide).toEqual({ kind: "measured", ovality: 4 / 102, from: "maximum" });
    // By hand: (104 − 102)/102 = 1.96 %, (102 − 97)/102 = 4.90 %.
    const flat = measuredOvality(millimetres(104), millimetres(97), millimetres(102));
    expect(flat).toEqual({ kind: "measured", ovality: 5 / 102, from: "minimum" });
  });

  it("finds none in a round pipe", () => {
    const round = measuredOvality(millimetres(100), millimetres(100), millimetres(100));
    expect(round).toMatchObject({ kind: "measured", ovality: 0 });
  });

  it.each([
    [99, 98, 100],
    [110, 105, 100],
    [110, 0, 100],
    [Number.NaN, 98, 100],
    [Number.POSITIVE_INFINITY, 98, 100],
  ])("hands back diameters that cannot be: max %d, min %d, mean %d", (maximum, minimum, mean) => {
    expect(measuredOvality(millimetres(maximum), millimetres(minimum), millimetres(mean)).kind).toBe(
      "inconsistent",
    );
  });
});
