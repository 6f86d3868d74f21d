import { describe, expect, it } from "vitest";
import { judgeLife } from "../../src/plan/life.ts";
import { cents } from "../../src/quantity/si.ts";
import { houseDesignLife } from "../../src/reference/design-life.ts";
import type { WorkKind } from "../../src/reference/works.ts";

const done = (work: WorkKind, cost: number | null, preparation = false) => ({
  work,
  preparation,
  cost: cost === null ? null : cents(cost),
});

describe("judgeLife", () => {
  it("takes off the life an open cut has left at the horizon", () => {
    // 9,000 less a third of it in 50 years at 3 %: 9000 − 3000/1.03^50 = 8315.68.
    expect(judgeLife([done("open-cut replacement", 900_000)], houseDesignLife)).toEqual({
      years: 75,
      presentWorth: 831_568,
    });
  });

  // 17 times in 50 years, one year left: Σ 1.03^(−3k) for k = 0…16, less 1/3 · 1.03^−50.
  const rootCutting =
    Array.from({ length: 17 }, (_, k) => 1.03 ** (-3 * k)).reduce((a, b) => a + b) - 1.03 ** -50 / 3;

  it("repeats root cutting every three years", () => {
    const { presentWorth } = judgeLife([done("clean and cut roots", 50_000)], houseDesignLife);
    expect(presentWorth).toBe(Math.round(50_000 * rootCutting));
  });

  it("renews each work of a combination at the end of its own life, and shows the shortest", () => {
    // Grouting every 10 years: 5 times in 50, none left over.
    const grouting = Array.from({ length: 5 }, (_, k) => 1.03 ** (-10 * k)).reduce((a, b) => a + b);
    const both = judgeLife(
      [done("clean and cut roots", 50_000), done("joint grouting", 80_000)],
      houseDesignLife,
    );
    expect(both).toEqual({ years: 3, presentWorth: Math.round(50_000 * rootCutting + 80_000 * grouting) });
  });

  it("prepares once for as long as the liner lasts", () => {
    const lined = judgeLife(
      [done("clean and cut roots", 50_000, true), done("full-length liner", 420_000)],
      houseDesignLife,
    );
    expect(lined).toEqual({ years: 50, presentWorth: 470_000 });
  });

  it("pays once for what has no life, and gives no worth to what has no price", () => {
    expect(judgeLife([done("inspect first", 35_000)], houseDesignLife)).toEqual({
      years: null,
      presentWorth: 35_000,
    });
    expect(judgeLife([done("full-length liner", null)], houseDesignLife)).toEqual({
      years: 50,
      presentWorth: null,
    });
  });
});
