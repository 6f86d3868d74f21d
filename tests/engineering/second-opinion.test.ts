import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ovalityReduction } from "../../src/engineering/ovality.ts";
import { glockPressure, impliedByGlock, takeSecondOpinion } from "../../src/engineering/second-opinion.ts";
import { bucklingPressure, type FreeRing } from "../../src/engineering/wall-checks.ts";
import { kilopascals, megapascals, millimetres } from "../../src/quantity/si.ts";
import { thinnest } from "../oracle/liner-wall-us.ts";
import { modulusPsi, percent } from "./us-inputs.ts";

const ring: FreeRing = {
  reduction: ovalityReduction(percent(2)),
  modulus: modulusPsi(125_000),
  enhancement: 7,
  poissonsRatio: 0.3,
  safetyFactor: 2,
};
const plain: FreeRing = {
  ...ring,
  reduction: 1,
  poissonsRatio: 0,
  safetyFactor: 1,
  modulus: megapascals(1000),
};

// No published check value for Glock could be read: everything here is self-made, or one remembered formula against
// another.
describe("Glock's close-fit buckling (from memory, cross-check only)", () => {
  // Self-made: K = ½ (DR − 1)^0.8 worked out beside the source notes, one decimal.
  it.each([
    [20, 5.3],
    [25, 6.4],
    [28, 7.0],
    [30, 7.4],
    [40, 9.4],
    [50, 11.2],
    [60, 13.1],
  ])("at DR %d stands for an enhancement factor of %d (self-made)", (ratio, K) => {
    expect(Math.abs(impliedByGlock(ratio) - K)).toBeLessThan(0.051);
  });

  it("equals the appendix when the implied factor is used, at any ratio", () => {
    fc.assert(
      fc.property(fc.double({ min: 8, max: 120, noNaN: true }), (ratio) => {
        const wall = millimetres(150 / ratio);
        const enhanced = { ...ring, enhancement: impliedByGlock(ratio) };
        expect(
          bucklingPressure(millimetres(150), wall, enhanced) / glockPressure(millimetres(150), wall, ring),
        ).toBeCloseTo(1, 9);
      }),
    );
  });

  it("agrees within 0.5 % with the remembered German form 2.62·(r/s)^0.8 · E/12·(s/r)³", () => {
    for (const slenderness of [15, 20, 30, 40]) {
      const german = 2.62 * slenderness ** 0.8 * (1_000_000 / 12) * (1 / slenderness) ** 3;
      // r is the mean radius: D − t = 2·r with s = t = 1 mm.
      const ours = glockPressure(millimetres(2 * slenderness + 1), millimetres(1), plain);
      expect(Math.abs(german / ours - 1)).toBeLessThan(0.005);
    }
  });

  it("gives the wall that bisection of the forward equation gives", () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 200, noNaN: true }), (pressure) => {
        const opinion = takeSecondOpinion(millimetres(150), kilopascals(pressure), ring)!;
        const strength = (ring.modulus * 1000 * ring.reduction) / (2 * 0.91);
        const wall = thinnest((t) => strength * (t / (150 - t)) ** 2.2 >= pressure, 150);
        expect(opinion.glockWall / wall).toBeCloseTo(1, 9);
      }),
    );
  });

  it("cautions below DR 28 and not above", () => {
    const opinion = (pressure: number) => takeSecondOpinion(millimetres(100), kilopascals(pressure), ring)!;
    // By hand: ½·(DR − 1)^0.8 = 7 at DR = 1 + 14^1.25 = 28.1.
    expect(1 + 14 ** 1.25).toBeCloseTo(28.1, 1);
    fc.assert(
      fc.property(fc.double({ min: 5, max: 1500, noNaN: true }), (pressure) => {
        const { isEnhancementUnsafe, dimensionRatio, ratio } = opinion(pressure);
        expect(isEnhancementUnsafe).toBe(dimensionRatio < 1 + 14 ** 1.25);
        expect(ratio > 1).toBe(isEnhancementUnsafe);
      }),
    );
    expect(opinion(20).isEnhancementUnsafe).toBe(false);
    expect(opinion(600).isEnhancementUnsafe).toBe(true);
  });

  it("has no opinion without water", () => {
    expect(takeSecondOpinion(millimetres(100), kilopascals(0), ring)).toBeNull();
  });
});
