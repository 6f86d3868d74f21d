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
