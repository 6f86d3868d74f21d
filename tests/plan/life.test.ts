import { describe, expect, it } from "vitest";
import { judgeLife } from "../../src/plan/life.ts";
import { cents } from "../../src/quantity/si.ts";
import { houseDesignLife } from "../../src/reference/design-life.ts";

const cost = (total: number | null) => ({ lines: [], total: total === null ? null : cents(total) });

describe("judgeLife", () => {
  it("takes off the life an open cut has left at the horizon", () => {
    // 9,000 less a third of it in 50 years at 3 %: 9000 − 3000/1.03^50 = 8315.68.
    expect(judgeLife("open-cut replacement", cost(900_000), houseDesignLife)).toEqual({
      years: 75,
      presentWorth: 831_568,
    });
  });

  it("repeats root cutting every three years", () => {
    // 17 times in 50 years, one year left: Σ 1.03^(−3k) for k = 0…16, less 1/3 · 1.03^−50.
    const times = Array.from({ length: 17 }, (_, k) => 1.03 ** (-3 * k)).reduce((a, b) => a + b);
    const expected = Math.round(50_000 * (times - 1.03 ** -50 / 3));
    expect(judgeLife("clean and cut roots", cost(50_000), houseDesignLife).presentWorth).toBe(expected);
  });

  it("gives none to what has no life or no price", () => {
    expect(judgeLife("inspect first", cost(35_000), houseDesignLife)).toEqual({
      years: null,
      presentWorth: null,
    });
    expect(judgeLife("full-length liner", cost(null), houseDesignLife)).toEqual({
      years: 50,
      presentWorth: null,
    });
  });
});
