import { expect, it } from "vitest";
import { showPercent, showStatedPercent } from "../../src/quantity/percent.ts";

it("a part of one is shown in percent with the decimals asked for", () => {
  expect(showPercent(0.125, 1)).toBe("12.5 %");
  expect(showPercent(0.00004, 3)).toBe("0.004 %");
  expect(showPercent(1, 0)).toBe("100 %");
});

it("a percentage somebody stated is shown as it was stated, without what the doubles leave behind it", () => {
  // 100 × 0.07 is 7.000000000000001 in doubles.
  expect(showStatedPercent(0.07)).toBe("7 %");
  expect(showStatedPercent(0.03125)).toBe("3.125 %");
});
