import { beforeAll, describe, expect, it } from "vitest";
import { swapForCheaper } from "../../../src/season/selection/cheaper-swaps.ts";
import type { LinearSolver } from "../../../src/season/selection/linear-solver.ts";
import { type PackedRule, packChosen } from "../../../src/season/selection/packed-rule.ts";
import { selectPacked } from "../../../src/season/selection/select-packed.ts";
import { sumChosen } from "../../../src/season/selection/selection-problem.ts";
import { packedCase } from "../../../src/season/selection/visit-shares.ts";
import { loadSolver } from "../../../src/workers/highs-solver.ts";
import { seasonFromArrays } from "./season-from-arrays.ts";

let solver: LinearSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

interface Work {
  readonly worth: number;
  readonly cost: number;
  readonly minutes?: number;
  readonly district?: number;
}

/** A work a lateral, for one crew of so many days of 480 minutes, no way between visits. */
function season(
  works: readonly Work[],
  days: number,
  rules: { must?: number[]; mobilization?: number[] } = {},
) {
  const minutes = works.map((each) => each.minutes ?? 480);
  const district = works.map((each) => each.district ?? 0);
  const mobilization = rules.mobilization ?? [0, 0];
  const problem = seasonFromArrays({
    worth: works.map(({ worth }) => worth),
    cost: works.map(({ cost }) => cost),
    minutes,
    district,
    money: 10_000,
    crewMinutes: days * 480,
    mobilization,
    must: rules.must ?? [],
  });
  const whole = [Float64Array.from(minutes)];
  const nowhere = new Float64Array(works.length).fill(Number.NaN);
  const rule: PackedRule = {
    crews: ["lining"],
    crewDays: [days],
    whole,
    handsOn: whole,
    shift: 480,
    sets: [1],
    drive: {
      betweenVisits: { averageMinutes: 0, parkMinutes: 0, detour: 1.3, kilometresPerHour: 30 },
      coordinateMetres: null,
    },
    x: nowhere,
    y: nowhere,
    mobilisationDays: 0,
    notBefore: nowhere,
    districtNames: mobilization.map((_, d) => `D${d}`),
    done: [],
    dates: null,
  };
  return { problem, rule };
}

/** What is in after the swaps, of a season with these works in. */
function swappedFrom(given: ReturnType<typeof season>, before: readonly number[]): readonly number[] {
  const { problem, rule } = given;
  const chosen = Int32Array.from(problem.district, (_, l) => (before.includes(l) ? l : -1));
  const { chosen: swapped, days } = swapForCheaper(packedCase(problem, rule), {
    chosen,
    days: packChosen(problem, rule, chosen),
  });
  expect(sumChosen(problem, swapped).worth).toBe(sumChosen(problem, chosen).worth);
  expect(days).toEqual(packChosen(problem, rule, swapped));
  return [...swapped.entries()].flatMap(([l, j]) => (j >= 0 ? [l] : []));
}

describe("of seasons worth the same", () => {
  it("the cheaper one is taken, whichever the solver finds", () => {
    const works = [
      { worth: 50, cost: 300 },
      { worth: 50, cost: 200 },
      { worth: 50, cost: 250 },
      { worth: 80, cost: 900 },
    ];
    for (const order of [works, works.toReversed()]) {
      const { problem, rule } = season(order, 2);
      const selection = selectPacked(problem, rule, solver, { gap: 0, nodes: 1_000 });
      if (!selection.ok) throw new Error(selection.why);
      // The work of 80 and one of 50: 900 and 200.
      expect(sumChosen(problem, selection.chosen)).toMatchObject({ worth: 130, works: 1_100 });
    }
  });

  it("works are swapped for the cheapest that are not in, one by one", () => {
    const works = [300, 200, 250, 100].map((cost) => ({ worth: 50, cost }));
    expect(swappedFrom(season(works, 2), [0, 2])).toEqual([1, 3]);
    // Nothing is worth exactly as much.
    expect(swappedFrom(season([...works.slice(0, 1), { worth: 49, cost: 1 }], 2), [0])).toEqual([0]);
  });

  it("none is swapped that has to be done, for one that takes more days, or that opens a dearer district", () => {
    const pair = [
      { worth: 50, cost: 300 },
      { worth: 50, cost: 200 },
    ];
    expect(swappedFrom(season(pair, 1, { must: [0] }), [0])).toEqual([0]);
    expect(swappedFrom(season([pair[0]!, { ...pair[1]!, minutes: 960 }], 1), [0])).toEqual([0]);
    const apart = [pair[0]!, { ...pair[1]!, district: 1 }];
    expect(swappedFrom(season(apart, 1, { mobilization: [0, 150] }), [0])).toEqual([0]);
    expect(swappedFrom(season(apart, 1, { mobilization: [0, 50] }), [0])).toEqual([1]);
  });
});
