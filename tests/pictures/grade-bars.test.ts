import { describe, expect, it } from "vitest";
import { gradeBars, shareCells } from "../../src/pictures/grade-bars.ts";

describe("gradeBars", () => {
  it("fills the width with the digits of the grades, in their shares", () => {
    const spread = [0, 0, 0, 0, 0, 0];
    expect(gradeBars([{ year: 0, expected: [5, 0, 0, 0, 3, 2], spread }], 10)).toEqual([
      "year  0  0000044455",
    ]);
  });

  it("gives what is left of a cell to the largest remainder", () => {
    // 1/3 of ten cells each: 3.33, 3.33, 3.33; the tenth goes to the first.
    expect(shareCells([1, 1, 1], 10)).toEqual([4, 3, 3]);
    expect(shareCells([0, 0], 10)).toEqual([0, 0]);
  });
});
