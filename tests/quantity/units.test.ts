import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  convert,
  sameDimension,
  type Unit,
  type UnitKey,
  units,
  unitWritten,
} from "../../src/quantity/units.ts";

const keys = Object.keys(units) as UnitKey[];

describe("units", () => {
  it("converts by the exact factors of NIST SP 811, Appendix B.8", () => {
    expect(convert(1, "ft", "m")).toBe(0.3048);
    expect(convert(1, "in", "mm")).toBeCloseTo(25.4, 13);
    expect(convert(1, "gal", "L")).toBeCloseTo(3.785411784, 12);
    expect(convert(1, "lb", "kg")).toBe(0.45359237);
    expect(convert(1, "lbf", "N")).toBeCloseTo(4.4482216152605, 12);
    // Printed to seven digits: 6.894 757 kPa a psi; 0.157 087 5 kN/m³ a lbf/ft³ (from 4.448 222 N and 0.3048 m).
    expect(convert(1, "psi", "kPa")).toBeCloseTo(6.894757, 6);
    expect(convert(1, "pcf", "kN_per_m3")).toBeCloseTo(0.1570875, 7);
    expect(convert(1, "gpm", "L_per_s")).toBeCloseTo(0.0630902, 7);
    expect(convert(32, "degF", "degC")).toBeCloseTo(0, 12);
    expect(convert(212, "degF", "degC")).toBeCloseTo(100, 12);
  });

  it("converts what is made of several by the product of the exact ones", () => {
    // By hand: 0.45359237 kg / 3.785411784 L; 0.45359237 kg / 0.3048 m; 4.4482216152605 N / 0.3048² m²; 10⁶ × 3.785411784 L / 86,400 s.
    expect(convert(1, "lb_per_gal", "kg_per_L")).toBeCloseTo(0.1198264, 7);
    expect(convert(1, "lb_per_ft", "kg_per_m")).toBeCloseTo(1.488164, 6);
    expect(convert(1, "psf", "kPa")).toBeCloseTo(0.04788026, 8);
    expect(convert(1, "MGD", "L_per_s")).toBeCloseTo(43.812636, 6);
    expect(convert(1, "ft2", "m2")).toBeCloseTo(0.09290304, 12);
    expect(convert(1, "ft_per_min", "m_per_min")).toBeCloseTo(0.3048, 12);
    expect(convert(1, "ft_per_s", "m_per_s")).toBe(0.3048);
    expect(convert(1, "mi", "ft")).toBeCloseTo(5280, 9);
    expect(convert(1, "yd", "in")).toBeCloseTo(36, 12);
    expect(convert(1, "MPa", "kPa")).toBe(1000);
    expect(convert(1, "d", "min")).toBe(1440);
    // A mean Gregorian year: 97 leap days in 400 years.
    expect(convert(400, "a", "d")).toBeCloseTo(400 * 365 + 97, 9);
  });

  it("have the dimensions of what they are made of", () => {
    const times = (a: UnitKey, b: UnitKey) =>
      units[a].dimension.map((each, i) => each + units[b].dimension[i]!);
    expect(times("m", "m")).toEqual(units.m2.dimension);
    expect(times("m2", "m")).toEqual(units.m3.dimension);
    expect(times("kg_per_L", "L")).toEqual(units.kg.dimension);
    expect(times("kg_per_m", "m")).toEqual(units.kg.dimension);
    expect(times("L_per_s", "s")).toEqual(units.L.dimension);
    expect(times("m_per_s", "s")).toEqual(units.m.dimension);
    expect(times("Pa", "m2")).toEqual(units.N.dimension);
    expect(times("kN_per_m3", "m3")).toEqual(units.N.dimension);
    // A newton is a kilogram metre per second, per second.
    expect(times("N", "s")).toEqual(times("kg", "m_per_s"));
  });

  it("comes back from any unit of the same dimension", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...keys),
        fc.constantFrom(...keys),
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        (a, b, x) => {
          fc.pre(sameDimension(units[a].dimension, units[b].dimension));
          // Temperatures pass through a zero of 459.67, which costs a few digits of a small number.
          expect(Math.abs(convert(convert(x, a, b), b, a) - x)).toBeLessThanOrEqual(
            1e-12 * Math.max(1000, Math.abs(x)),
          );
        },
      ),
    );
  });

  it("makes whole degrees of whole degrees, so that a limit in one scale is the limit in the other", () => {
    for (const [fahrenheit, celsius] of [
      [140, 60],
      [104, 40],
      [86, 30],
      [32, 0],
      [-40, -40],
    ] as const) {
      expect(convert(fahrenheit, "degF", "degC")).toBe(celsius);
      expect(convert(celsius, "degC", "degF")).toBe(fahrenheit);
    }
  });

  it("refuses to make feet of gallons", () => {
    expect(() => convert(1, "gal", "ft")).toThrow(RangeError);
  });

  it("reads every spelling it writes", () => {
    for (const [key, unit] of Object.entries(units) as [UnitKey, Unit][]) {
      if (unit.spellings[0] !== "") expect(unitWritten(unit.spellings[0]!)).toBe(key);
    }
    expect(unitWritten("parsec")).toBeNull();
  });
});
