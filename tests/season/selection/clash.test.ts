import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findClash } from "../../../src/season/selection/clash.ts";
import { selectSeason } from "../../../src/season/selection/select-season.ts";
import { loadSolver } from "../../../src/workers/highs-solver.ts";
import { seasonFromArrays } from "./season-from-arrays.ts";

const solver = await loadSolver();

describe("rules that clash", () => {
  it("names money and what must be done, and the smallest change of each", () => {
    // Three that must be done cost 30 + 40 + 50 = 120 with 10 to open the district: 130 of 100. Letting the one of 30 go is enough.
    const problem = seasonFromArrays({
      worth: [1, 1, 1, 9],
      cost: [30, 40, 50, 5],
      money: 100,
      mobilization: [10],
      must: [0, 1, 2],
    });
    expect(selectSeason(problem, solver)).toEqual({ ok: false, why: "no choice keeps the rules" });
    expect(findClash(problem, solver)).toEqual({
      rules: [
        { side: "most", rule: { kind: "money" } },
        { side: "must do", laterals: [0, 1, 2] },
      ],
      changes: [
        { rule: { side: "most", rule: { kind: "money" } }, by: 30 },
        { rule: { side: "must do", laterals: [0, 1, 2] }, by: 1, letGo: [expect.any(Number)] },
      ],
    });
  });

  it("names a district's least and the crew, and leaves out rules that have nothing to do with it", () => {
    // Least of 3 in the second district at 60 minutes each: 180 of 130; with 2 of them 120 fit.
    const problem = seasonFromArrays({
      worth: [1, 1, 1, 1],
      cost: [10, 10, 10, 10],
      minutes: [60, 60, 60, 60],
      district: [0, 1, 1, 1],
      mobilization: [5, 5],
      leastLaterals: [0, 3],
      money: 1000,
      crewMinutes: 130,
    });
    const crew = { side: "most", rule: { kind: "crew", crew: 0 } };
    const least = { side: "least", rule: { kind: "district laterals", district: 1 } };
    expect(findClash(problem, solver)).toEqual({
      rules: [crew, least],
      changes: [
        { rule: crew, by: 50 },
        { rule: least, by: 1 },
      ],
    });
  });

  it("names an order that cannot be kept: one that must be done needs one that nothing pays for", () => {
    const problem = seasonFromArrays({
      worth: [1, 1],
      cost: [10, 200],
      money: 100,
      must: [0],
      needs: [[0, 1]],
    });
    const clash = findClash(problem, solver)!;
    expect(clash.rules.map(({ side }) => side)).toEqual(["most", "most", "must do"]);
    expect(clash.changes[0]).toEqual({ rule: { side: "most", rule: { kind: "money" } }, by: 110 });
  });

  it("counts to the cent, whatever the dearest offer costs", () => {
    // 300,000 + 364,372 with the last cent left out; a solver's millionth of the dearest offer is 4.2 cents.
    const short = (cents: number) =>
      seasonFromArrays({
        worth: [2, 1, 1],
        cost: [300_000, 364_373, 4_200_000],
        money: 664_373 - cents,
        must: [0, 1],
      });
    expect(findClash(short(0), solver)).toBeNull();
    expect(selectSeason(short(0), solver)).toMatchObject({ ok: true, worth: 3 });
    for (const cents of [1, 2, 3, 5]) {
      expect(selectSeason(short(cents), solver)).toEqual({ ok: false, why: "no choice keeps the rules" });
      expect(findClash(short(cents), solver)!.changes).toMatchObject([
        { rule: { side: "most", rule: { kind: "money" } }, by: cents },
        { rule: { side: "must do", laterals: [0, 1] }, by: 1 },
      ]);
    }
  });

  it("finds no clash exactly where there is a season, and each change mends", () => {
    const season = fc.record({
      worth: fc.constant([5, 4, 3, 2]),
      cost: fc.array(fc.integer({ min: 1, max: 30 }), { minLength: 4, maxLength: 4 }),
      minutes: fc.array(fc.integer({ min: 1, max: 30 }), { minLength: 4, maxLength: 4 }),
      district: fc.constant([0, 0, 1, 1]),
      mobilization: fc.constant([7, 3]),
      leastLaterals: fc.tuple(fc.nat(2), fc.nat(2)),
      must: fc.subarray([0, 1, 2, 3]),
      money: fc.integer({ min: 20, max: 90 }),
      crewMinutes: fc.integer({ min: 20, max: 90 }),
    });
    fc.assert(
      fc.property(season, (given) => {
        const clash = findClash(seasonFromArrays(given), solver);
        expect(clash === null).toBe(selectSeason(seasonFromArrays(given), solver).ok);
        for (const { rule, by } of clash?.changes ?? []) {
          expect(by).toBeGreaterThan(0);
          if (rule.side !== "most" || rule.rule.kind !== "money") continue;
          const withMore = (cents: number) =>
            selectSeason(seasonFromArrays({ ...given, money: given.money + cents }), solver).ok;
          expect(withMore(by)).toBe(true);
          expect(withMore(by - 1)).toBe(false);
        }
      }),
      { numRuns: 60, seed: 9 },
    );
  }, 60_000);
});
