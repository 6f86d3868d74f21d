import { describe, expect, it } from "vitest";
import { judgeBatch, type PotLifeLabel, potLife } from "../../src/engineering/pot-life.ts";
import { celsius, fraction, minutes } from "../../src/quantity/si.ts";
import { lifeByArrhenius } from "../oracle/arrhenius.ts";

const label: PotLifeLabel = {
  system: "ambient two-part epoxy",
  life: minutes(30),
  at: celsius(25),
  factorPerTenDegrees: 2,
};

describe("pot life", () => {
  // Hand-calculated table for 30 min at 25 °C, independent of this program; printed to a tenth of a minute.
  it.each([
    [5, 120],
    [10, 84.9],
    [15, 60],
    [20, 42.4],
    [25, 30],
    [30, 21.2],
    [35, 15],
    [40, 10.6],
  ])("at %d °C is %d min", (at, life) => {
    expect(Math.abs(potLife(celsius(at), label) - life)).toBeLessThanOrEqual(0.05);
  });

  it("doubles as an activation energy of 52.9 kJ/mol does from 25 to 35 °C", () => {
    // 52.9 is given to three figures: a part in 500 of a factor of two.
    const byArrhenius = lifeByArrhenius(30, 25, 35, 52.9);
    expect(potLife(celsius(35), label) / byArrhenius).toBeCloseTo(1, 2);
  });

  it.each([15, 20, 30])("stays within 5 % of Arrhenius at %d °C", (at) => {
    // A power of a temperature difference is not quite Arrhenius: 4.8 % at 15 °C, less nearer 25.
    expect(Math.abs(potLife(celsius(at), label) / lifeByArrhenius(30, 25, at, 52.9) - 1)).toBeLessThan(0.05);
  });

  it("follows another factor", () => {
    expect(potLife(celsius(35), { ...label, factorPerTenDegrees: 1.5 })).toBeCloseTo(20, 9);
  });

  it("refuses a factor that makes resin last longer in the heat", () => {
    expect(() => potLife(celsius(30), { ...label, factorPerTenDegrees: 1 })).toThrow("30 min, 1");
  });
});

describe("a batch against its pot life", () => {
  const margin = fraction(0.7);
  const times = { wetOut: minutes(10), haul: minutes(5), insertion: minutes(6) };

  it("fits when it takes exactly 0.7 of it", () => {
    // Hand calculation: 21 min against 0.7 × 30 = 21.
    expect(judgeBatch(times, celsius(25), label, margin)).toEqual({ kind: "fits", needed: 21, allowed: 21 });
  });

  it("is too long in the heat, and names the temperature at which it fits", () => {
    const verdict = judgeBatch(times, celsius(35), label, margin);
    // Hand calculation: 0.7 × 15 = 10.5 allowed; 21 fits again at 25 °C.
    expect(verdict).toMatchObject({ kind: "too long", needed: 21 });
    if (verdict.kind === "too long") {
      expect(verdict.allowed).toBeCloseTo(10.5, 9);
      expect(verdict.hottest).toBeCloseTo(25, 9);
      expect(judgeBatch(times, celsius(verdict.hottest - 0.001), label, margin).kind).toBe("fits");
    }
  });

  it("names the colder day on which work of twice the time fits", () => {
    // 42 min of 0.7 × 30 · 2^((25 − T)/10): twice the life is ten degrees below 25 °C.
    const verdict = judgeBatch({ ...times, haul: minutes(26) }, celsius(25), label, margin);
    expect(verdict).toMatchObject({ kind: "too long", needed: 42, allowed: 21 });
    if (verdict.kind === "too long") expect(verdict.hottest).toBeCloseTo(15, 9);
  });

  it("refuses work that takes no time, and resin that has none", () => {
    const none = { wetOut: minutes(0), haul: minutes(0), insertion: minutes(0) };
    expect(() => judgeBatch(none, celsius(25), label, margin)).toThrow("got 0");
    expect(() => judgeBatch(times, celsius(25), { ...label, life: minutes(0) }, margin)).toThrow("0 min");
    expect(() => judgeBatch(times, celsius(25), label, fraction(0))).toThrow(RangeError);
  });

  it("refuses a margin above the whole life", () => {
    expect(() => judgeBatch(times, celsius(25), label, fraction(1.1))).toThrow("1.1");
  });
});
