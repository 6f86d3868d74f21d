import { beforeAll, describe, expect, it } from "vitest";
import type { SeasonReason } from "../../src/columns/plan-columns.ts";
import { explainSeason } from "../../src/season/season-reasons.ts";
import type { LinearSolver } from "../../src/season/selection/linear-solver.ts";
import type { PackedRule } from "../../src/season/selection/packed-rule.ts";
import { selectPacked } from "../../src/season/selection/select-packed.ts";
import type { SelectionProblem } from "../../src/season/selection/selection-problem.ts";
import { loadSolver } from "../../src/workers/highs-solver.ts";
import { seasonFromArrays } from "./selection/season-from-arrays.ts";

let solver: LinearSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

/** One lining crew with one set; without days nobody limits it. */
function ruleFor(
  problem: SelectionProblem,
  { days = Number.POSITIVE_INFINITY, mobilisation = 0, travel = 0 } = {},
): PackedRule {
  const nowhere = new Float64Array(problem.district.length).fill(Number.NaN);
  return {
    crews: ["lining"],
    crewDays: [days],
    whole: problem.minutes,
    handsOn: problem.minutes,
    shift: 480,
    sets: [1],
    drive: {
      betweenVisits: { averageMinutes: travel, parkMinutes: 0, detour: 1, kilometresPerHour: 30 },
      coordinateMetres: null,
    },
    x: nowhere,
    y: nowhere,
    mobilisationDays: mobilisation,
    districtNames: Array.from({ length: problem.districts }, (_, d) => `D${d}`),
    notBefore: new Float64Array(problem.worth.length).fill(Number.NaN),
    done: [],
    dates: null,
  };
}

function explained(problem: SelectionProblem, limits: Parameters<typeof ruleFor>[1] = {}) {
  const rule = ruleFor(problem, limits);
  const found = selectPacked(problem, rule, solver, { gap: 0, nodes: 20_000 });
  if (!found.ok) throw new Error(found.why);
  const { reasons, prices } = explainSeason(problem, rule, found.chosen, solver);
  return { isIn: Array.from(found.chosen, (j) => j >= 0), reasons, prices };
}

describe("why a lateral is in a season or out of it", () => {
  it("by money: what is worth the price of its cost is in, or lacks the money that is left; the rest is not worth its cost", () => {
    // 12 of money, 5 each. The relaxation takes 0, 1 and two fifths of 2, so a unit of money is worth 4 ÷ 5.
    const problem = seasonFromArrays({ worth: [20, 9, 4, 1], cost: [5, 5, 5, 5], money: 12 });
    const { isIn, reasons, prices } = explained(problem);
    expect(isIn).toEqual([true, true, false, false]);
    expect(prices.money).toBeCloseTo(0.8, 9);
    expect(reasons).toEqual<SeasonReason[]>([
      "worth what it takes",
      "worth what it takes",
      // Its gain of 4 is its price of 0.8 × 5, and 2 of money are left.
      "money is gone",
      // 1 is less than 0.8 × 5.
      "not worth its cost at this budget",
    ]);
  });

  it("by crew-days: the price of a day is what the last visit gains with it", () => {
    // Two days, a visit of 460 min a day, so the price of a day lies between the third visit's 4 and the second's 9.
    const problem = seasonFromArrays({
      worth: [20, 9, 4, 1],
      cost: [1, 1, 1, 1],
      minutes: [460, 460, 460, 460],
      money: 100,
    });
    const { isIn, reasons, prices } = explained(problem, { days: 2 });
    expect(isIn).toEqual([true, true, false, false]);
    expect(prices.crewDays.lining).toBeGreaterThanOrEqual(4 - 1e-9);
    // A visit of 460 min is 23/24 of a shift, which some prices of days may divide by.
    expect(prices.crewDays.lining).toBeLessThanOrEqual((9 * 24) / 23 + 1e-9);
    expect(prices.money).toBe(0);
    expect(reasons[3]).toBe("not worth its crew-days");
    expect(["crew-days are gone", "not worth its crew-days"]).toContain(reasons[2]);
  });

  it("a lateral worth its own cost stays out where its district is not worth opening", () => {
    // 22 of money; opening a district costs 10. District 0 with its first two: 20 for 29. The third is 2 short of its 5: a unit is
    // worth 0.8. District 1's only lateral gains 6 − 0.8, less than 0.8 × 10.
    const problem = seasonFromArrays({
      worth: [20, 9, 4, 6],
      cost: [5, 5, 5, 1],
      district: [0, 0, 0, 1],
      mobilization: [10, 10],
      money: 22,
    });
    const { isIn, reasons } = explained(problem);
    expect(isIn).toEqual([true, true, false, false]);
    expect(reasons[2]).toBe("money is gone");
    expect(reasons[3]).toBe("district not opened");
  });

  it("a kind of crew that would have to come to an open district is charged its coming", () => {
    // Dig crews have 4 days, of which coming to a district takes 2. District 1 has three lots of a day worth 100: two fit, so a day is
    // worth 100. District 0 is open for lining; its lateral 1 takes an eighth of a dig day, 12.5, which its 15 would pay; 2 days of coming not.
    const problem = seasonFromArrays({
      worth: [50, 15, 100, 99, 98],
      cost: [1, 1, 1, 1, 1],
      district: [0, 0, 1, 1, 1],
      mobilization: [0, 0],
      money: 100,
    });
    const minutes = [
      [60, 0, 0, 0, 0],
      [0, 60, 480, 480, 480],
    ].map((each) => Float64Array.from(each));
    const two = { ...problem, minutes, crewMinutes: [Infinity, 4 * 480] };
    const one = ruleFor(problem, { mobilisation: 2 });
    const rule: PackedRule = {
      ...one,
      crews: ["lining", "dig"],
      crewDays: [Infinity, 4],
      whole: minutes,
      handsOn: minutes,
      sets: [1, 1],
    };
    const found = selectPacked(two, rule, solver, { gap: 0, nodes: 20_000 });
    if (!found.ok) throw new Error(found.why);
    expect(Array.from(found.chosen, (j) => j >= 0)).toEqual([true, false, true, true, false]);
    const { reasons, prices } = explainSeason(two, rule, found.chosen, solver);
    expect(prices.crewDays.dig).toBeGreaterThan(15 / 2.125);
    expect(prices.crewDays.dig).toBeLessThan(15 * 8);
    expect(reasons[1]).toBe("not worth its crew-days");
    expect(reasons[0]).toBe("worth what it takes");
  });

  it("by the rules: must, least, needs, most, and what gains nothing or fits nowhere", () => {
    const problem = seasonFromArrays({
      worth: [1, 20, 30, 2, 0, 99, 1],
      cost: [5, 5, 5, 5, 1, 1000, 6],
      district: [0, 0, 0, 1, 1, 1, 2],
      mobilization: [0, 0, 0],
      leastLaterals: [0, 1, 0],
      must: [0],
      // 2 follows 6, whose cost is worth much more than its 1, but 2 makes up for it.
      needs: [[2, 6]],
      money: 26,
    });
    const { isIn, reasons } = explained(problem);
    expect(isIn).toEqual([true, true, true, true, false, false, true]);
    expect(reasons[0]).toBe("must be done");
    expect(reasons[1]).toBe("worth what it takes");
    expect(reasons[4]).toBe("gains nothing");
    expect(reasons[5]).toBe("alone over money or crew-days");

    // 15: the must takes 5, the least of district 1 takes 1; 9 are left, and 2 with the one it follows would take 11.
    const poorer = explained({ ...problem, money: 15 });
    expect([poorer.isIn[2], poorer.isIn[6]]).toEqual([false, false]);
    expect(poorer.reasons[2]).toBe("waits for another lateral");

    const most = { laterals: Float64Array.from([2, Infinity, Infinity]), money: problem.most.money };
    const fewer = explained({ ...problem, needs: [], money: 100, most });
    // Must, and the one worth most: the district has its two.
    expect([fewer.isIn[0], fewer.isIn[1], fewer.isIn[2]]).toEqual([true, false, true]);
    expect(fewer.reasons[1]).toBe("district has its most");
  });

  it("says that a district's least or a lateral that waits brought it in, where its own gain would not", () => {
    // A unit of money is worth 3: lateral 1 at 30 for 10 is cut. Lateral 2 gains 1 for 5, and only the least of its district asks for it.
    const least = explained(
      seasonFromArrays({
        worth: [100, 30, 1],
        cost: [10, 10, 5],
        district: [0, 0, 1],
        mobilization: [0, 0],
        leastLaterals: [0, 1],
        money: 20,
      }),
    );
    expect(least.isIn).toEqual([true, false, true]);
    expect(least.reasons).toEqual<SeasonReason[]>([
      "worth what it takes",
      "money is gone",
      "district's least",
    ]);
    const needed = explained(
      seasonFromArrays({ worth: [100, 30, 1], cost: [10, 10, 5], needs: [[0, 2]], money: 20 }),
    );
    expect(needed.isIn).toEqual([true, false, true]);
    expect(needed.reasons[2]).toBe("another waits for it");
  });

  it("never says that what gains nothing is worth what it takes, though money is left for it", () => {
    // 100 of money and 13 of cost: a price of 0 says that nothing takes anything.
    const problem = seasonFromArrays({
      worth: [9, 0, 0, 0],
      cost: [10, 1, 1, 1],
      district: [0, 0, 1, 1],
      mobilization: [0, 0],
      leastLaterals: [0, 1],
      needs: [[0, 1]],
      money: 100,
    });
    const rule = ruleFor(problem);
    const reasonsOf = (chosen: readonly number[]) =>
      explainSeason(problem, rule, Int32Array.from(chosen), solver).reasons;
    const one = reasonsOf([0, 1, 2, -1]);
    expect(one).toEqual<SeasonReason[]>([
      "worth what it takes",
      "another waits for it",
      "district's least",
      "gains nothing",
    ]);
    // With two of them neither is needed for the least of one.
    expect(reasonsOf([0, 1, 2, 3]).slice(2)).toEqual(["fills what was left", "fills what was left"]);
  });

  it("owns up to what the search did not find", () => {
    const problem = seasonFromArrays({ worth: [5, 4], cost: [1, 1], money: 10 });
    const nothing = Int32Array.from([-1, -1]);
    expect(explainSeason(problem, ruleFor(problem), nothing, solver).reasons).toEqual([
      "would still fit",
      "would still fit",
    ]);
  });

  it("leaves to the program what the problem cannot know: what is held, forbidden or without an offer", () => {
    const problem = seasonFromArrays({ worth: [5, 4], cost: [1, 1], money: 10 });
    const held = { ...problem, mustNot: Uint8Array.from([1, 0]) };
    expect(explained(held).reasons).toEqual([null, "worth what it takes"]);
  });
});
