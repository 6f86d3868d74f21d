import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { extend, toHundredths } from "../../src/quantity/money.ts";
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
