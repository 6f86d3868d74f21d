import { describe, expect, it } from "vitest";
import { crewDayColumn, crewDayHundredths, showCrewDays } from "../../src/quantity/crew-days.ts";

describe("crew-days", () => {
  it("are rounded once, of the sum: ten visits of 63 min are 1.31 days of 480 min, not ten times 0.13", () => {
    // 63/480 = 0.13125; ten of them 1.3125, and not 1.30.
    expect(crewDayHundredths(63, 480)).toBe(13);
    expect(showCrewDays(10 * 63, 480)).toBe("1.31");
  });

  it("of parts add up to those of the sum, as printed", () => {
    // In hundredths 13.125 each and 39.375 together; 12.917 and 38.75; 12.708 and 38.125, so that one of three has a hundredth less.
    expect(crewDayColumn([63, 63, 63], 480)).toEqual(["0.13", "0.13", "0.13", "0.39"]);
    expect(crewDayColumn([62, 62, 62], 480)).toEqual(["0.13", "0.13", "0.13", "0.39"]);
    expect(crewDayColumn([61, 61, 61], 480)).toEqual(["0.13", "0.13", "0.12", "0.38"]);
  });

  it("round a half up, whatever its binary digits: 36 of 480 min are 0.075", () => {
    expect(showCrewDays(36, 480)).toBe("0.08");
    expect(showCrewDays(480_000, 480)).toBe("1,000.00");
  });
});
