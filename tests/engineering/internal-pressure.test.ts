import { describe, expect, it } from "vitest";
import { checkSurcharge, type SurchargedLiner } from "../../src/engineering/internal-pressure.ts";
import { megapascals, metres, millimetres } from "../../src/quantity/si.ts";

// Every equation is from memory; the expected values are hand calculations from those remembered equations.
const liner: SurchargedLiner = {
  deterioration: "partially",
  hostDiameter: millimetres(100),
  wall: millimetres(4),
  holeDiameter: millimetres(25),
  flexuralStrength: megapascals(15),
  tensileStrength: megapascals(10),
  safetyFactor: 2,
};

describe("surcharge check (from memory, unverified)", () => {
  it("bends as a plate over a small hole", () => {
    // Limit 1.83·√(4/100) = 0.366; d/D = 0.25. P = 5.33/24² · 16 · 15,000/2 = 1,110.4 kPa.
    const check = checkSurcharge(liner, metres(5));
    expect(check.holeLimit).toBeCloseTo(0.366, 6);
    expect(check.mode).toBe("flat-plate");
    expect(check.capacity).toBeCloseTo(1110.4, 1);
    expect(check.basis).toBe("from memory, unverified");
  });

  it("hoops over a large hole, without a hole, and in a host that carries nothing", () => {
    // P = 2 · 10,000 / (23 · 2) = 434.78 kPa.
    for (const change of [
      { holeDiameter: millimetres(37) },
      { holeDiameter: millimetres(0) },
      { deterioration: "fully" as const },
    ]) {
      const check = checkSurcharge({ ...liner, ...change }, metres(5));
      expect(check.mode).toBe("ring-tension");
      expect(check.capacity).toBeCloseTo(434.78, 2);
    }
  });

  it("holds a basement's depth of water and not an absurd head", () => {
    // 5 m of water is 49.0 kPa; 434.78 kPa is 44.36 m.
    const hoop = { ...liner, deterioration: "fully" } as const;
    expect(checkSurcharge(hoop, metres(5)).pressure).toBeCloseTo(49.01, 2);
    expect(checkSurcharge(hoop, metres(5)).holds).toBe(true);
    expect(checkSurcharge(hoop, metres(44.3)).holds).toBe(true);
    expect(checkSurcharge(hoop, metres(44.4)).holds).toBe(false);
  });

  it("throws on sizes and strengths that cannot be, with the values", () => {
    expect(() => checkSurcharge({ ...liner, wall: millimetres(50) }, metres(5))).toThrow(/"wall":50/);
    expect(() => checkSurcharge(liner, metres(-1))).toThrow(/"head":-1/);
    expect(() => checkSurcharge({ ...liner, tensileStrength: megapascals(0) }, metres(1))).toThrow(
      /"tensileStrength":0/,
    );
  });
});
