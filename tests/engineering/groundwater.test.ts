import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Groundwater,
  groundwaterHeads,
  hydrostaticPressure,
  WATER_UNIT_WEIGHT,
  waterBuoyancyFactor,
} from "../../src/engineering/groundwater.ts";
import { metres, millimetres } from "../../src/quantity/si.ts";
import { feet, toPsi } from "./us-inputs.ts";

const tableAt = (depth: number): Groundwater => ({ kind: "table", depthBelowSurface: metres(depth) });

describe("water pressure", () => {
  it("is 5.20 psi under 12 ft, as published (W2: handbook p. 80)", () => {
    // 62.4 × 12 / 144 = 5.2 exactly.
    expect(toPsi(hydrostaticPressure(feet(12)))).toBeCloseTo(5.2, 12);
  });

  it("lies between the US print's 0.433 psi per foot and the SI print's 9.81 kPa per metre, each within 0.1 %", () => {
    const perFoot = toPsi(hydrostaticPressure(feet(1)));
    expect(perFoot / 0.433 - 1).toBeGreaterThan(0);
    expect(perFoot / 0.433 - 1).toBeLessThan(0.001);
    expect(9.81 / WATER_UNIT_WEIGHT - 1).toBeGreaterThan(0);
    expect(9.81 / WATER_UNIT_WEIGHT - 1).toBeLessThan(0.001);
  });
});

describe("water buoyancy factor", () => {
  it("is 0.835 with 8 ft of water and 16 ft of cover, as published (W1: handbook p. 76)", () => {
    expect(waterBuoyancyFactor(feet(8), feet(16))).toBeCloseTo(0.835, 12);
  });

  it("stops at 0.67, with the water at the surface or above it", () => {
    expect(waterBuoyancyFactor(metres(3), metres(3))).toBeCloseTo(0.67, 12);
    expect(waterBuoyancyFactor(metres(5), metres(3))).toBe(0.67);
  });

  it("is 1 in dry ground", () => {
    expect(waterBuoyancyFactor(metres(0), metres(2))).toBe(1);
  });
});

describe("heads over crown and invert", () => {
  // A 150 mm pipe 2 m down: crown at 2 m, invert at 2.15 m.
  const at = (depth: number) => groundwaterHeads(tableAt(depth), metres(2), millimetres(150));

  it("differ by the diameter when the crown is under water", () => {
    expect(at(0.5).overCrown).toBeCloseTo(1.5, 12);
    expect(at(0.5).overInvert).toBeCloseTo(1.65, 12);
  });

  it("leave the crown dry and part of the diameter wet when the water stands inside the pipe's height", () => {
    expect(at(2.1).overCrown).toBe(0);
    expect(at(2.1).overInvert).toBeCloseTo(0.05, 12);
  });

  it("are both zero when the water is under the invert or absent", () => {
    expect(at(2.2)).toEqual({ overCrown: 0, overInvert: 0 });
    expect(groundwaterHeads({ kind: "none" }, metres(2), millimetres(150))).toEqual({
      overCrown: 0,
      overInvert: 0,
    });
  });

  it("are none where the water stands exactly at the invert or the crown, whatever the last bits of a difference", () => {
    // 1.2 m of cover and a 150 mm pipe put the invert 1.35 m down; in doubles 1.2 − 1.35 + 0.15 is 1.1e-16.
    const at = (depth: number, cover: number) =>
      groundwaterHeads({ kind: "table", depthBelowSurface: metres(depth) }, metres(cover), millimetres(150));
    expect(1.2 - 1.35 + 0.15).not.toBe(0);
    expect(at(1.35, 1.2)).toEqual({ overCrown: 0, overInvert: 0 });
    expect(at(0.3, 0.1 + 0.2).overCrown).toBe(0);
  });

  it("count standing water above the surface", () => {
    expect(at(-0.3).overCrown).toBeCloseTo(2.3, 12);
  });

  it("reproduce the handbook's pair: 8 ft over the crown is 12 ft over the invert of a 48 in pipe (W1 and W2)", () => {
    const heads = groundwaterHeads(
      { kind: "table", depthBelowSurface: feet(8) },
      feet(16),
      millimetres(48 * 25.4),
    );
    expect(heads.overCrown).toBeCloseTo(feet(8), 12);
    expect(heads.overInvert).toBeCloseTo(feet(12), 12);
  });

  it("do not turn a missing cover into dry ground", () => {
    const heads = groundwaterHeads(tableAt(1), metres(Number.NaN), millimetres(150));
    expect(heads.overCrown).toBeNaN();
    expect(heads.overInvert).toBeNaN();
  });

  it("never rise as the water table sinks, and the invert head is never the smaller", () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        number(-1, 8),
        number(0, 2),
        number(0.3, 6),
        number(75, 200),
        (depth, further, cover, diameter) => {
          const high = groundwaterHeads(tableAt(depth), metres(cover), millimetres(diameter));
          const low = groundwaterHeads(tableAt(depth + further), metres(cover), millimetres(diameter));
          expect(low.overCrown).toBeLessThanOrEqual(high.overCrown);
          expect(low.overInvert).toBeLessThanOrEqual(high.overInvert);
          expect(high.overCrown).toBeLessThanOrEqual(high.overInvert);
          expect(high.overInvert - high.overCrown).toBeLessThanOrEqual(diameter / 1000 + 1e-12);
        },
      ),
    );
  });
});
