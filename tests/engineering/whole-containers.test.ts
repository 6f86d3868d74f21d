import fc from "fast-check";
import { expect, it } from "vitest";
import { bendLength } from "../../src/engineering/bend-length.ts";
import { buyWhole, countByLives } from "../../src/engineering/whole-containers.ts";
import { millimetres } from "../../src/quantity/si.ts";

it("containers are whole, with the waste on top of the use", () => {
  // 100 seals and 10 % are 110: eleven boxes of 10, none left. 101: 111.1 or 112 whole ones, twelve boxes, 8 left.
  expect(buyWhole(100, 0.1, 10)).toEqual({ containers: 11, left: 0 });
  expect(buyWhole(101, 0.1, 10)).toEqual({ containers: 12, left: 8 });
  expect(buyWhole(0, 0.1, 10)).toEqual({ containers: 0, left: 0 });
});

it("what is bought is never less than what is used, and one container less would not do", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 1_000_000 }),
      fc.integer({ min: 0, max: 50 }),
      fc.integer({ min: 1, max: 5000 }),
      (use, percent, container) => {
        const { containers, left } = buyWhole(use, percent / 100, container);
        // In whole numbers: 100·containers·container ≥ use·(100 + percent).
        expect(100 * containers * container).toBeGreaterThanOrEqual(use * (100 + percent) * (1 - 1e-9));
        expect(100 * (containers - 1) * container).toBeLessThan(use * (100 + percent) || 1);
        // In whole hundredths: no double is in it.
        expect(left).toBe(containers * container - Math.ceil((use * (100 + percent)) / 100));
      },
    ),
  );
});

it("25 uses of a bladder that bears 10 take three", () => {
  expect(countByLives(25, 10)).toBe(3);
  expect(countByLives(0, 10)).toBe(0);
});

it("a 90° bend in 100 mm takes a quarter circle of 50 mm more outside than on the centre line: 78.5 mm", () => {
  // π/2 · 50 mm = 78.54 mm.
  expect(bendLength(1, 90, millimetres(100))).toBeCloseTo(0.07854, 5);
  expect(bendLength(0, 90, millimetres(100))).toBe(0);
});
