import { describe, expect, it } from "vitest";
import { showDailyFlow } from "../../src/quantity/summed-flow.ts";

describe("a flow of one lateral", () => {
  it("is shown by the day: 0.004 L/s is 0.3456 m³, which are 91.3 gallons of 3.785411784 L", () => {
    expect(showDailyFlow(0.004, { units: "si" })).toBe("0.346 m³/day");
    expect(showDailyFlow(0.004, { units: "us" })).toBe("91.3 gal/day");
  });
});
