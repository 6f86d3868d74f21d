import { describe, expect, it } from "vitest";
import { nominalFor } from "../../src/engineering/nominal-size.ts";
import { millimetres } from "../../src/quantity/si.ts";

const stocked = [75, 100, 125, 150, 200];

describe("nominalFor", () => {
  it("takes 4 in for 100 mm and 8 in for 200 mm", () => {
    expect(nominalFor(millimetres(101.6), stocked, 0.1)).toBe(100);
    expect(nominalFor(millimetres(203.2), stocked, 0.1)).toBe(200);
  });

  it("takes no size for a host between sizes or beyond them", () => {
    expect(nominalFor(millimetres(260), stocked, 0.1)).toBeNull();
    expect(nominalFor(millimetres(172), stocked, 0.1)).toBeNull();
    expect(nominalFor(millimetres(100), [], 0.1)).toBeNull();
  });
});
