import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import type { LinearSolver } from "../../../src/season/selection/linear-solver.ts";
import type { PackedRule } from "../../../src/season/selection/packed-rule.ts";
import { rankedCut } from "../../../src/season/selection/ranked-cut.ts";
import { selectPacked } from "../../../src/season/selection/select-packed.ts";
import { loadSolver } from "../../../src/workers/highs-solver.ts";
import { bestPacked, daysOf, type PlainPackedSeason } from "../../oracle/packed-season.ts";
import { seasonFromArrays } from "./season-from-arrays.ts";

let solver: LinearSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

const stops = { gap: 0, nodes: 20_000 };

const isInOf = (chosen: Int32Array) => Array.from(chosen, (j) => j >= 0);

/** One crew with one set, no coordinates: the way between visits is the stated average. */
function built(s: PlainPackedSeason) {
  const districts = Math.max(...s.district) + 1;
  const problem = seasonFromArrays({
    worth: s.offers.map(({ worth }) => worth),
    cost: s.offers.map(({ cost }) => cost),
    minutes: s.offers.map(({ whole }) => whole),
    district: s.district,
    money: s.money,
    crewMinutes: s.days * s.shift,
    mobilization: new Array(districts).fill(0),
    must: s.must,
  });
  const whole = [Float64Array.from(s.offers, (each) => each.whole)];
  const nowhere = new Float64Array(s.offers.length).fill(Number.NaN);
  const rule: PackedRule = {
    crews: ["lining"],
    crewDays: [s.days],
    whole,
    handsOn: whole,
    shift: s.shift,
    sets: [1],
    drive: {
      betweenVisits: { averageMinutes: s.travel, parkMinutes: 5, detour: 1.3, kilometresPerHour: 30 },
      coordinateMetres: null,
    },
    x: nowhere,
    y: nowhere,
    mobilisationDays: s.mobilisation,
    notBefore: nowhere,
    districtNames: Array.from({ length: districts }, (_, d) => `D${d}`),
    done: [],
    dates: null,
  };
  return { problem, rule };
}

const plainSeason: fc.Arbitrary<PlainPackedSeason> = fc
  .record({
    laterals: fc.array(
      fc.record({
        worth: fc.integer({ min: 1, max: 100 }),
        cost: fc.integer({ min: 1, max: 50 }),
        whole: fc.integer({ min: 0, max: 700 }),
        district: fc.integer({ min: 0, max: 1 }),
      }),
      { minLength: 2, maxLength: 8 },
    ),
    money: fc.integer({ min: 50, max: 300 }),
    days: fc.integer({ min: 1, max: 8 }),
    travel: fc.integer({ min: 0, max: 40 }),
    mobilisation: fc.integer({ min: 0, max: 2 }),
    hasMust: fc.boolean(),
  })
  .map(({ laterals, hasMust, ...rest }) => ({
    offers: laterals,
    district: laterals.map(({ district }) => district),
    shift: 480,
    must: hasMust ? [0] : [],
    ...rest,
  }));

describe("the season as packed", () => {
  it("refuses a season that a cent is missing for, and finds the one that has it", () => {
    const season = (money: number) =>
      built({
        offers: [
          { worth: 2, cost: 300_000, whole: 60 },
          { worth: 1, cost: 364_373, whole: 60 },
          { worth: 1, cost: 4_200_000, whole: 60 },
        ],
        district: [0, 0, 0],
        shift: 480,
        must: [0, 1],
        money,
        days: 4,
        travel: 10,
        mobilisation: 1,
      });
    const solve = ({ problem, rule }: ReturnType<typeof built>) => selectPacked(problem, rule, solver, stops);
    expect(solve(season(664_373))).toMatchObject({ ok: true, worth: 3 });
    for (const missing of [1, 2, 4])
      expect(solve(season(664_373 - missing))).toEqual({ ok: false, why: "no choice keeps the rules" });
  });

  // Hand case: four visits of 230 min are 1.9 days of 480, and two of them with the way between are 485: two days hold two.
  it("takes no two visits of more than half a day into one day", () => {
    const { problem, rule } = built({
      offers: [10, 9, 8, 7].map((worth) => ({ worth, cost: 1, whole: 230 })),
      district: [0, 0, 0, 0],
      money: 100,
      days: 2,
      shift: 480,
      travel: 25,
      mobilisation: 0,
      must: [],
    });
    // 230 + 25 + 230 = 485 > 480, and the relaxation sees it: (230 + 25) ÷ (480 + 25) is more than a half.
    const found = selectPacked(problem, rule, solver, stops);
    expect(found).toMatchObject({ ok: true, worth: 19, bound: 19, ended: "proven" });
  });

  it("counts mobilisation: the second district is not worth the day it takes", () => {
    // Three days. District 0: two visits of a day, worth 10 and 9; district 1: one of worth 12. With a day of mobilisation each:
    // district 0 alone 1 + 2 = 3 days, worth 19; both with one visit each would be 4 days; district 1 alone 2 days, worth 12.
    const { problem, rule } = built({
      offers: [10, 9, 12].map((worth) => ({ worth, cost: 1, whole: 480 })),
      district: [0, 0, 1],
      money: 100,
      days: 3,
      shift: 480,
      travel: 10,
      mobilisation: 1,
      must: [],
    });
    const found = selectPacked(problem, rule, solver, stops);
    // A crew that comes to both districts is mobilized in both, and the bound knows it.
    expect(found).toMatchObject({ ok: true, worth: 19, bound: 19, ended: "proven" });
    if (found.ok) {
      expect(found.packing.packed).toEqual([2]);
      expect(found.packing.mobilized).toEqual([1]);
      expect(found.packing.unpacked).toEqual({ worth: 19, excess: [0] });
    }
  });

  // Known by construction: E. Falkenauer, A hybrid grouping genetic algorithm for bin packing, Journal of Heuristics 2, 1996, triplets:
  // three visits fill a shift exactly, so twelve of them fill four days; a thirteenth never fits, whatever it is worth less.
  it("takes all visits of days that three fill exactly, and not one more; twice the same", () => {
    const triplets = [
      [200, 150, 130],
      [236, 123, 121],
      [183, 157, 140],
      [211, 145, 124],
    ].flat();
    const { problem, rule } = built({
      offers: [
        ...triplets.map((whole) => ({ worth: 10, cost: 1, whole })),
        { worth: 9, cost: 1, whole: 120 },
      ],
      district: new Array(13).fill(0),
      money: 100,
      days: 4,
      shift: 480,
      travel: 0,
      mobilisation: 0,
      must: [],
    });
    const found = selectPacked(problem, rule, solver, stops);
    expect(found).toMatchObject({ ok: true, worth: 120, bound: 120, ended: "proven" });
    if (found.ok) expect([...found.chosen].flatMap((j) => (j < 0 ? [] : [j]))).toEqual([...triplets.keys()]);
    expect(selectPacked(problem, rule, solver, stops)).toEqual(found);
  });

  it("says what would make room where what must be done does not fit", () => {
    const { problem, rule } = built({
      offers: [5, 4].map((worth) => ({ worth, cost: 1, whole: 300 })),
      district: [0, 1],
      money: 10,
      days: 2,
      shift: 480,
      travel: 10,
      mobilisation: 1,
      must: [0, 1],
    });
    // Two districts, each a day of mobilisation and a day of work: four days, two more than there are.
    expect(selectPacked(problem, rule, solver, stops)).toEqual({
      ok: false,
      why: "does not fit as packed",
      more: [2],
      // The relaxation counts them too: a day of mobilisation and one of work in each district.
      least: 2,
      clash: {
        rules: [
          { side: "crew-days", crew: 0, days: 2 },
          { side: "must do", laterals: [0, 1] },
        ],
        changes: [
          { rule: { side: "crew-days", crew: 0, days: 2 }, by: 2 },
          { rule: { side: "must do", laterals: [0, 1] }, by: 1, letGo: [expect.any(Number)] },
        ],
      },
    });
  });

  it("fits by an independent packing, and is within its stated gap of the best of all choices", () => {
    let packed = 0;
    let best = 0;
    fc.assert(
      fc.property(plainSeason, (season) => {
        const { problem, rule } = built(season);
        const found = selectPacked(problem, rule, solver, stops);
        const most = bestPacked(season);
        if (!found.ok) {
          // Only what must be done stands in the way: nothing was found although there is something only where dropping got stuck.
          expect(most === null || season.must.length > 0).toBe(true);
          if (found.why === "no choice keeps the rules") expect(most).toBeNull();
          return;
        }
        expect(daysOf(season, isInOf(found.chosen))).toBeLessThanOrEqual(season.days);
        expect(most).not.toBeNull();
        expect(found.bound).toBeGreaterThanOrEqual(most! - 1e-9);
        expect(found.worth).toBeLessThanOrEqual(most! + 1e-9);
        expect(found.worth).toBeGreaterThanOrEqual(found.bound * (1 - found.gap) - 1e-9);
        packed++;
        if (found.worth >= most! - 1e-9) best++;
      }),
      { numRuns: 150, seed: 6 },
    );
    // The heuristic is no proof; how often it finds the best here is a regression value: 132 of 132.
    expect(packed).toBeGreaterThan(100);
    expect(best / packed).toBeGreaterThan(0.98);
  });

  it("judges the ranked cut by the same days", () => {
    fc.assert(
      fc.property(plainSeason, (given) => {
        const season = { ...given, must: [] };
        const { problem, rule } = built(season);
        const planned = Int32Array.from(season.offers.keys());
        const order = [...season.offers.keys()];
        const cut = rankedCut(problem, order, planned, rule);
        const isIn = isInOf(cut);
        expect(daysOf(season, isIn)).toBeLessThanOrEqual(season.days);
        // Nobody is passed over that would still fit: each that is out breaks money or days if it is put in.
        for (const [l, own] of isIn.entries()) {
          if (own) continue;
          const withIt = isIn.map((each, k) => each || k === l);
          const cost = season.offers.reduce((sum, each, k) => sum + (withIt[k] ? each.cost : 0), 0);
          expect(cost > season.money || daysOf(season, withIt) > season.days).toBe(true);
        }
      }),
      { numRuns: 200, seed: 7 },
    );
  });
});
