import { describe, expect, it } from "vitest";
import { scheduleLines } from "../../src/workbook/bid-schedule.ts";
import { usBasis } from "../plan/examples.ts";

const keysOf = (quantities: Readonly<Record<string, number>>) =>
  scheduleLines(usBasis, new Map(Object.entries(quantities))).map(({ number, key }) => [number, key]);

describe("the lines of the schedule", () => {
  it("put variants in the order of their sizes, whatever order they come in", () => {
    expect(
      keysOf({
        "sectional liner | 10 in x 3 ft": 100,
        "sectional liner | 4 in x 10 ft": 100,
        "sectional liner | 4 in x 3 ft": 100,
        "root cutting | size not known": 100,
        "root cutting | 6 in": 100,
      }),
    ).toEqual([
      [1, "mobilization"],
      [2, "traffic control"],
      [4.01, "root cutting | 6 in"],
      [4.02, "root cutting | size not known"],
      [5.01, "sectional liner | 4 in x 3 ft"],
      [5.02, "sectional liner | 4 in x 10 ft"],
      [5.03, "sectional liner | 10 in x 3 ft"],
    ]);
  });

  it("refuse a line that is no bid item instead of leaving it out", () => {
    expect(() => keysOf({ "sky hook | 4 in": 100 })).toThrow('"sky hook | 4 in"');
  });

  it("refuse more variants than item numbers can tell apart", () => {
    const many = Object.fromEntries(Array.from({ length: 100 }, (_, i) => [`root cutting | ${i} in`, 100]));
    expect(() => keysOf(many)).toThrow("100 variants");
  });
});
