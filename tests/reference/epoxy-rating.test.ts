import { expect, it } from "vitest";
import { convert } from "../../src/quantity/units.ts";

// Common practice, no published source: industrial epoxies are quoted to 250 °F. A unit check, of no system here.
it("250 °F is 121.1 °C, so a quoted 120 °C is rounded", () => {
  // (250 − 32) × 5/9 = 121.11; back, 120 °C is 248 °F.
  expect(convert(250, "degF", "degC")).toBeCloseTo(121.111, 3);
  expect(convert(120, "degC", "degF")).toBeCloseTo(248, 9);
});
