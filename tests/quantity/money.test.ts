import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { extend, roundPart, toHundredths } from "../../src/quantity/money.ts";
import { cents } from "../../src/quantity/si.ts";

describe("extend", () => {
  it("rounds half a cent up, once, on the extended line", () => {
    // 0.29 ft at 50 cents is 14.5 cents; decimal floating point makes it 14.499…
    expect(extend(29, cents(50))).toBe(15);
    // 1.15 × $3.50 = $4.025.
    expect(extend(115, cents(350))).toBe(403);
    // 37 × $1,850.00 = $68,450.00.
    expect(extend(3700, cents(185_000))).toBe(6_845_000);
  });

  it("agrees with whole-number arithmetic of any size", () => {
    fc.assert(
      fc.property(fc.nat(10_000_000), fc.nat(100_000_000), (hundredths, price) => {
        const exact = (BigInt(hundredths) * BigInt(price) + 50n) / 100n;
        expect(BigInt(extend(hundredths, cents(price)))).toBe(exact);
      }),
    );
  });

  it("refuses a product that a double cannot count", () => {
    expect(() => extend(2 ** 40, cents(2 ** 40))).toThrow(RangeError);
  });

  it("counts quantities in whole hundredths", () => {
    expect(toHundredths(37.5)).toBe(3750);
    expect(toHundredths(0.125)).toBe(13);
  });
});

describe("a part of an amount", () => {
  it("is half up where doubles fall just short of the half", () => {
    // 586.30 · 77.55/106.60 = 5.50 · 77.55 = 426.525; in metres, as lengths are kept, doubles make it 42652.499…
    const [lower, upper] = [48.5 * 0.3048, 58.1 * 0.3048];
    expect(58_630 * ((lower + 0.5 * upper) / (lower + upper))).toBeLessThan(42_652.5);
    expect(roundPart(58_630, { of: 7755, whole: 10_660 })).toBe(42_653);
    expect(roundPart(0, { of: 1, whole: 3 })).toBe(0);
    expect(roundPart(5, { of: 1, whole: 1 })).toBe(5);
  });

  it("agrees with whole-number arithmetic of any size", () => {
    const whole = fc.integer({ min: 1, max: 2 ** 50 });
    fc.assert(
      fc.property(
        fc.nat(1_000_000_000),
        whole,
        fc.double({ min: 0, max: 1, noNaN: true }),
        (amount, of, part) => {
          const some = Math.floor(of * part);
          const exact = (2n * BigInt(amount) * BigInt(some) + BigInt(of)) / (2n * BigInt(of));
          expect(BigInt(roundPart(amount, { of: some, whole: of }))).toBe(exact);
        },
      ),
    );
    // Small wholes give exact halves often.
    fc.assert(
      fc.property(fc.nat(1_000_000), fc.integer({ min: 1, max: 400 }), fc.nat(400), (amount, of, part) => {
        const some = part % (of + 1);
        const exact = (2n * BigInt(amount) * BigInt(some) + BigInt(of)) / (2n * BigInt(of));
        expect(BigInt(roundPart(amount, { of: some, whole: of }))).toBe(exact);
      }),
    );
  });
});
