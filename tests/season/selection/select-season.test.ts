import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { brokenRules } from "../../../src/season/selection/broken-rules.ts";
import { coreModel, lossesOf } from "../../../src/season/selection/core-model.ts";
import { limitsOf } from "../../../src/season/selection/limits.ts";
import { alwaysOpen, chooseAt, priceRules } from "../../../src/season/selection/prices.ts";
import { selectSeason } from "../../../src/season/selection/select-season.ts";
import { loadSolver } from "../../../src/workers/highs-solver.ts";
import { inventSeason } from "../../bench/selection-case.ts";
import { bestByCounting, type PlainSeason, worthIfAllowed } from "../../oracle/every-season.ts";
import { floridaState, petersen } from "./published-knapsacks.ts";
import { seasonFromPlain } from "./season-from-plain.ts";

const solver = await loadSolver();
const exact = { gap: 0, nodes: 1_000_000 };

/** A knapsack as a season: the first limit is the money, the others are crews; one district. */
const knapsack = ({ profits, weights, limits }: (typeof petersen)[number] | (typeof floridaState)[number]) =>
  seasonFromPlain({
    offers: profits.map((worth, l) => [
      { worth, cost: weights[0][l]!, minutes: weights.slice(1).map((row) => row[l]!) },
    ]),
    district: profits.map(() => 0),
    money: limits[0],
    crewMinutes: limits.slice(1),
    mobilization: [0],
    leastLaterals: [0],
    mostLaterals: [Infinity],
    leastMoney: [0],
    must: [],
    needs: [],
  });

const smallSeason: fc.Arbitrary<PlainSeason> = fc
  .record({
    offers: fc.array(
      fc.array(
        fc.record({
          worth: fc.integer({ min: 0, max: 50 }),
          cost: fc.integer({ min: 0, max: 30 }),
          minutes: fc.tuple(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 0, max: 20 })),
        }),
        { minLength: 1, maxLength: 3 },
      ),
      { minLength: 3, maxLength: 6 },
    ),
    seats: fc.array(fc.integer({ min: 0, max: 2 }), { minLength: 6, maxLength: 6 }),
    money: fc.integer({ min: 0, max: 120 }),
    crewMinutes: fc.tuple(fc.integer({ min: 5, max: 70 }), fc.constantFrom(30, Infinity)),
    mobilization: fc.tuple(fc.integer({ min: 0, max: 25 }), fc.constantFrom(0, 10), fc.constant(15)),
    leastLaterals: fc.tuple(fc.constantFrom(0, 0, 1, 2), fc.constant(0), fc.constantFrom(0, 0, 1)),
    mostLaterals: fc.tuple(fc.constantFrom(1, Infinity), fc.constant(Infinity), fc.constant(Infinity)),
    leastMoney: fc.tuple(fc.constant(0), fc.constantFrom(0, 0, 20), fc.constant(0)),
    must: fc.constantFrom<readonly number[]>([], [], [1], [0, 2]),
    needs: fc.constantFrom<readonly (readonly [number, number])[]>([], [], [[0, 1]], [[2, 0]]),
  })
  .map(({ seats, ...season }) => ({ ...season, district: season.offers.map((_, l) => seats[l]!) }));

describe("the season's best choice", () => {
  it.each([...petersen, ...floridaState])("reaches the published optimum $optimum", (published) => {
    const problem = knapsack(published);
    const found = selectSeason(problem, solver, exact);
    if (!found.ok) throw new Error(found.why);
    // Sums of numbers with one decimal.
    expect(found.worth).toBeCloseTo(published.optimum, 6);
    expect(found.bound).toBeCloseTo(published.optimum, 3);
    expect(brokenRules(problem, found.chosen)).toEqual([]);
  });

  it("is what counting every choice finds, and keeps the rules by another's account; or both find none", () => {
    let without = 0;
    fc.assert(
      fc.property(smallSeason, (plain) => {
        const problem = seasonFromPlain(plain);
        const best = bestByCounting(plain);
        const found = selectSeason(problem, solver, exact);
        if (best === null) without++;
        expect(found.ok ? found.worth : null).toBe(best);
        if (!found.ok) return;
        expect(found.bound).toBeGreaterThanOrEqual(best! - 1e-6);
        const picked = plain.offers.map((_, l) =>
          found.chosen[l]! < 0 ? -1 : found.chosen[l]! - problem.firstOffer[l]!,
        );
        expect(worthIfAllowed(plain, picked)).toBe(best);
      }),
      { numRuns: 150, seed: 6 },
    );
    // Both kinds were met.
    expect(without).toBeGreaterThan(5);
    expect(without).toBeLessThan(145);
  }, 60_000);

  it("prices of any kind bound every choice, and found prices bound it closely", () => {
    fc.assert(
      fc.property(smallSeason, fc.array(fc.nat(3), { minLength: 20, maxLength: 20 }), (plain, some) => {
        const best = bestByCounting(plain);
        if (best === null) return;
        const problem = seasonFromPlain(plain);
        const limits = limitsOf(problem);
        const all = new Uint8Array(problem.worth.length).fill(1);
        const prices = Float64Array.from(limits.rules, (_, row) =>
          limits.upper[row]! < Infinity ? some[row]! / 2 : -some[row]! / 2,
        );
        expect(chooseAt(problem, limits, all, alwaysOpen(problem), prices).bound).toBeGreaterThanOrEqual(
          best,
        );
        const { at } = priceRules(problem, limits, all, solver);
        expect(at.bound).toBeGreaterThanOrEqual(best - 1e-6);
      }),
      { numRuns: 60, seed: 7 },
    );
  }, 60_000);

  it("a core of any size gives no more than the whole, and its bound with what was left out holds", () => {
    fc.assert(
      fc.property(smallSeason, fc.nat(4), (plain, size) => {
        const best = bestByCounting(plain);
        if (best === null) return;
        const problem = seasonFromPlain(plain);
        const limits = limitsOf(problem);
        const all = new Uint8Array(problem.worth.length).fill(1);
        const { prices, at } = priceRules(problem, limits, all, solver);
        const core = coreModel(problem, limits, lossesOf(problem, limits, all, prices, at), size);
        const answer = solver(core.model, { gap: 0, nodes: 1_000_000 });
        const worth = answer.values === null ? -Infinity : -answer.objective * core.worthScale;
        expect(worth).toBeLessThanOrEqual(best + 1e-6);
        expect(Math.max(worth, at.bound - core.departing)).toBeGreaterThanOrEqual(best - 1e-6);
      }),
      { numRuns: 60, seed: 8 },
    );
  }, 60_000);

  it("proves a thousandth for 2,000 laterals with three offers each, twice the same", () => {
    const problem = inventSeason(2000, 3);
    const found = selectSeason(problem, solver);
    if (!found.ok) throw new Error(found.why);
    expect(found.ended).toBe("proven");
    expect(found.gap).toBeLessThanOrEqual(0.001);
    expect(brokenRules(problem, found.chosen)).toEqual([]);
    expect(found.core).toBeLessThan(found.alternatives);
    expect(selectSeason(problem, solver)).toEqual(found);
  }, 120_000);

  it("stopped on its way keeps the best so far with its gap, and says that it was stopped", () => {
    let found = Number.NEGATIVE_INFINITY;
    const problem = inventSeason(2000, 5);
    const stopped = selectSeason(problem, solver, {
      ...exact,
      progress: (worth) => {
        found = worth;
      },
      stopAsked: () => Number.isFinite(found),
    });
    if (!stopped.ok) throw new Error(stopped.why);
    expect(stopped.ended).toBe("stopped");
    expect(stopped.gap).toBeGreaterThan(0);
    expect(stopped.worth).toBeLessThanOrEqual(stopped.bound);
    expect(brokenRules(problem, stopped.chosen)).toEqual([]);
  }, 60_000);

  it("ends when asked, and says so", () => {
    expect(selectSeason(inventSeason(300, 4), solver, { ...exact, stopAsked: () => true })).toEqual({
      ok: false,
      why: "stopped",
    });
  });
});
