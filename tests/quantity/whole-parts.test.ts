import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { wholeParts } from "../../src/quantity/whole-parts.ts";

describe("whole parts of a whole total", () => {
  it("go up where most was cut off, and with equal cuts the earlier does", () => {
    // 1 + 1 + 1 of 5: the two left over go to 0.7 and 0.6, not to 0.2.
    expect(wholeParts([1.2, 1.7, 1.6], 5)).toEqual([1, 2, 2]);
    expect(wholeParts([0.5, 2.5, 1.5], 5)).toEqual([1, 3, 1]);
  });

  it("leave a part as it is that is whole but for its last digits", () => {
    // 0.29 × 100 is 28.999999999999996.
    expect(wholeParts([0.29 * 100, 0.9], 29)).toEqual([29, 0]);
    expect(wholeParts([0.29 * 100, 0.9], 30)).toEqual([29, 1]);
  });

  it("add up to the total, none a whole from its value", () => {
    const hundredths = fc.array(fc.nat(5000), { minLength: 1, maxLength: 20 });
    fc.assert(
      fc.property(hundredths, (list) => {
        const total = Math.round(list.reduce((sum, each) => sum + each, 0) / 100);
        const parts = wholeParts(
          list.map((each) => each / 100),
          total,
        );
        expect(parts.reduce((sum, part) => sum + part, 0)).toBe(total);
        for (const [i, part] of parts.entries()) expect(Math.abs(100 * part - list[i]!)).toBeLessThan(100);
      }),
    );
  });
});
