import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { wholePower } from "../../src/engineering/whole-power.ts";

describe("a whole power", () => {
  it("is 1 at 0, also of 0", () => {
    expect(wholePower(0.9, 0)).toBe(1);
    expect(wholePower(0, 0)).toBe(1);
  });

  it("is exact where the product has few digits", () => {
    expect(wholePower(2, 10)).toBe(1024);
    expect(wholePower(-3, 3)).toBe(-27);
    expect(wholePower(0.5, 50)).toBe(2 ** -50);
  });

  it("agrees with the engine's power to n units in the last place, for a thousand years", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), fc.integer({ min: 0, max: 1000 }), (x, n) => {
        const exact = x ** n;
        // Below the normal numbers there are no units in the last place to count by.
        const allowed = Math.max((n + 2) * Number.EPSILON * exact, Number.MIN_VALUE * 4 * (n + 1));
        expect(Math.abs(wholePower(x, n) - exact)).toBeLessThanOrEqual(allowed);
      }),
    );
  });
});
