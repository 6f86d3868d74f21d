import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  convertToVolume,
  convertToWeight,
  countContainers,
  countKits,
  mixDensity,
  readMixRatio,
  splitMix,
  type WeightRatio,
  weighBatch,
} from "../../src/engineering/resin-mix.ts";
import { KILOGRAMS_PER_POUND } from "../../src/quantity/factors.ts";
import { fraction, kilograms, kilogramsPerLitre } from "../../src/quantity/si.ts";
import { solveMix } from "../oracle/ring-and-laminate.ts";

// Hand-made worked example, independent of this program: 100 : 25 by weight, 1.15 and 1.00 kg/L.
const ratio: WeightRatio = { basis: "by weight", base: 100, hardener: 25 };
const densities = { base: kilogramsPerLitre(1.15), hardener: kilogramsPerLitre(1) };

describe("a mix ratio", () => {
  it("without its basis is refused", () => {
    expect(readMixRatio(4, 1, "")).toEqual({ kind: "refused", because: "basis missing", found: "" });
    expect(readMixRatio(4, 1, "parts")).toEqual({
      kind: "refused",
      because: "basis unknown",
      found: "parts",
    });
  });

  it("with a part of nothing is refused", () => {
    expect(readMixRatio(4, 0, "by weight")).toEqual({
      kind: "refused",
      because: "part not above zero",
      found: "4 : 0",
    });
  });

  it("with its basis is read", () => {
    expect(readMixRatio(100, 25, "by weight")).toEqual({ kind: "ratio", ratio });
  });

  it("100 : 25 by weight is 86.96 : 25.00 by volume, 3.48 : 1", () => {
    const volume = convertToVolume(ratio, densities);
    expect(volume.base).toBeCloseTo(86.96, 2);
    expect(volume.hardener).toBeCloseTo(25, 12);
    expect(volume.base / volume.hardener).toBeCloseTo(3.48, 2);
  });

  it("4 : 1 by volume instead gives 21.74 parts of hardener per hundred, 13 % short", () => {
    const weight = convertToWeight({ basis: "by volume", base: 4, hardener: 1 }, densities);
    expect(weight.base / weight.hardener).toBeCloseTo(4.6, 12);
    const perHundred = (100 * weight.hardener) / weight.base;
    expect(perHundred).toBeCloseTo(21.74, 2);
    expect(1 - perHundred / 25).toBeCloseTo(0.13, 2);
  });

  it("gives 1.1165 kg/L mixed, whichever basis states it", () => {
    expect(mixDensity(ratio, densities)).toBeCloseTo(1.1165, 4);
    expect(mixDensity(convertToVolume(ratio, densities), densities)).toBeCloseTo(1.1165, 4);
  });

  it("splits as two equations say, on either basis", () => {
    const part = fc.double({ min: 0.5, max: 100, noNaN: true });
    const density = fc.double({ min: 0.8, max: 2, noNaN: true });
    fc.assert(
      fc.property(part, part, density, density, (b, h, base, hardener) => {
        const given = { base: kilogramsPerLitre(base), hardener: kilogramsPerLitre(hardener) };
        const byVolume = splitMix(
          kilograms(10),
          convertToWeight({ basis: "by volume", base: b, hardener: h }, given),
        );
        expect(byVolume.base).toBeCloseTo(solveMix(10, b, h, base, hardener).base, 9);
        const byWeight = splitMix(kilograms(10), { basis: "by weight", base: b, hardener: h });
        expect(byWeight.hardener).toBeCloseTo(solveMix(10, b, h, 1, 1).hardener, 9);
      }),
    );
  });
});

describe("a batch", () => {
  const pounds = (n: number) => kilograms(n * KILOGRAMS_PER_POUND);

  it("of 28.27 lb at 100 : 25 is 22.62 lb and 5.65 lb", () => {
    // Hand calculation: 42 ft × 0.6731 lb/ft = 28.27; × 0.8 and × 0.2.
    const { base, hardener } = splitMix(pounds(28.27), ratio);
    expect(base / KILOGRAMS_PER_POUND).toBeCloseTo(22.62, 2);
    expect(hardener / KILOGRAMS_PER_POUND).toBeCloseTo(5.65, 2);
  });

  it("is weighed up to the scale's step and says how far the ratio moved", () => {
    // Hand calculation: 10 kg is 8 + 2; steps of 0.3 kg make 8.1 and 2.1, hardener 25.926 per hundred: 3.70 % over.
    const batch = weighBatch(kilograms(10), ratio, { step: kilograms(0.3), ratioTolerance: fraction(0.02) });
    expect(batch.base).toBeCloseTo(8.1, 12);
    expect(batch.hardener).toBeCloseTo(2.1, 12);
    expect(batch.ratioError).toBeCloseTo(0.037, 4);
    expect(batch.withinTolerance).toBe(false);
    const fine = weighBatch(kilograms(10), ratio, { step: kilograms(0.01), ratioTolerance: fraction(0.02) });
    expect(fine).toMatchObject({ base: 8, hardener: 2, withinTolerance: true });
  });

  it("takes no step more where the last bits of a double lie", () => {
    // In doubles 0.07/0.01 is 7.000000000000001.
    expect(countContainers(kilograms(0.07), fraction(0), kilograms(0.01))).toBe(7);
    expect(countContainers(kilograms(0.07001), fraction(0), kilograms(0.01))).toBe(8);
    // 32.02/0.01 is 3202.0000000000005: the more steps, the coarser the last bit of their number.
    expect(countContainers(kilograms(32.02), fraction(0), kilograms(0.01))).toBe(3202);
  });

  it("never comes out short, nor a whole step over", () => {
    const mass = fc.double({ min: 0.5, max: 200, noNaN: true });
    fc.assert(
      fc.property(mass, fc.constantFrom(0.01, 0.05, 0.1, 0.5), (mixed, step) => {
        const exact = splitMix(kilograms(mixed), ratio);
        const batch = weighBatch(kilograms(mixed), ratio, {
          step: kilograms(step),
          ratioTolerance: fraction(1),
        });
        for (const part of ["base", "hardener"] as const) {
          // A billionth of the mass is what the rounding rule forgives.
          expect(batch[part]).toBeGreaterThanOrEqual(exact[part] * (1 - 2e-9));
          expect(batch[part]).toBeLessThan(exact[part] + step);
        }
      }),
    );
  });

  it("counts whole containers after waste, and kits by the component that runs out first", () => {
    // Hand calculation: 95 × 1.05 = 99.75 in drums of 20 kg is 4.99 → 5; 100 × 1.05 = 105 → 6.
    expect(countContainers(kilograms(95), fraction(0.05), kilograms(20))).toBe(5);
    expect(countContainers(kilograms(100), fraction(0.05), kilograms(20))).toBe(6);
    // Base 22.62 in kits of 8 asks for 3; hardener 5.65 in kits of 1.8 asks for 4.
    const needed = { base: kilograms(22.62), hardener: kilograms(5.65) };
    expect(countKits(needed, { base: kilograms(8), hardener: kilograms(1.8) })).toBe(4);
    expect(countKits(needed, { base: kilograms(8), hardener: kilograms(2) })).toBe(3);
  });

  it("refuses a scale without a step", () => {
    expect(() =>
      weighBatch(kilograms(1), ratio, { step: kilograms(0), ratioTolerance: fraction(0.02) }),
    ).toThrow(RangeError);
  });
});
