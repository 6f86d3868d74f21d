import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { countRiskMatrix } from "../../src/season/risk-matrix.ts";

describe("a risk matrix", () => {
  it("counts a 10 in cast iron main of likelihood 4 and consequence 2 at their crossing", () => {
    // University of New Mexico, Southwest Environmental Finance Center, workbook chapter 5, p. 10: likelihood 4, consequence 2.
    const { counts, unplaced } = countRiskMatrix([4], [2], null);
    expect(counts[3]).toEqual([0, 1, 0, 0, 0]);
    expect(counts.flat().reduce((sum, n) => sum + n, 0)).toBe(1);
    expect(unplaced).toBe(0);
  });

  it("puts points between levels in the nearer, halves in the worse, and counts what has no place", () => {
    const { counts, unplaced } = countRiskMatrix([1.4, 1.5, 4.6, Number.NaN], [1, 2.2, 5, 3], null);
    expect(counts[0]![0]).toBe(1);
    expect(counts[1]![1]).toBe(1);
    expect(counts[4]![4]).toBe(1);
    expect(unplaced).toBe(1);
  });

  it("accounts for every lateral asked about", () => {
    const points = fc.oneof(fc.double({ min: 1, max: 5, noNaN: true }), fc.constant(Number.NaN));
    fc.assert(
      fc.property(fc.array(fc.tuple(points, points, fc.integer({ min: 0, max: 1 }))), (rows) => {
        const among = rows.map(([, , in_]) => in_);
        const { counts, unplaced } = countRiskMatrix(
          rows.map(([l]) => l),
          rows.map(([, c]) => c),
          among,
        );
        expect(counts.flat().reduce((sum, n) => sum + n, unplaced)).toBe(
          among.filter((in_) => in_ === 1).length,
        );
      }),
    );
  });

  it("places no points off the scale, such as a recipe of the program's own may give, and counts them", () => {
    expect(countRiskMatrix([0, 5.2, 2], [1, 1, 1], null)).toMatchObject({ unplaced: 2 });
  });

  it("refuses columns of two lengths", () => {
    expect(() => countRiskMatrix([1, 2], [1], null)).toThrow("2, 1");
  });
});
