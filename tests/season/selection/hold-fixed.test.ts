import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { brokenRules } from "../../../src/season/selection/broken-rules.ts";
import { holdFixed, takeOffBegun } from "../../../src/season/selection/hold-fixed.ts";
import { selectSeason } from "../../../src/season/selection/select-season.ts";
import { loadSolver } from "../../../src/workers/highs-solver.ts";
import { bestByCounting, type PlainSeason } from "../../oracle/every-season.ts";
import { seasonFromPlain } from "./season-from-plain.ts";

const solver = await loadSolver();
const exact = { gap: 0, nodes: 1_000_000 };

const offer = fc.record({
  worth: fc.integer({ min: 0, max: 50 }),
  cost: fc.integer({ min: 0, max: 30 }),
  minutes: fc.tuple(fc.integer({ min: 0, max: 20 })),
});
const season: fc.Arbitrary<PlainSeason> = fc.record({
  offers: fc.array(fc.array(offer, { minLength: 1, maxLength: 2 }), { minLength: 5, maxLength: 5 }),
  district: fc.array(fc.integer({ min: 0, max: 1 }), { minLength: 5, maxLength: 5 }),
  money: fc.integer({ min: 40, max: 120 }),
  crewMinutes: fc.tuple(fc.integer({ min: 25, max: 70 })),
  mobilization: fc.tuple(fc.integer({ min: 0, max: 10 }), fc.constantFrom(0, 10)),
  leastLaterals: fc.tuple(fc.constantFrom(0, 1, 2), fc.constant(0)),
  mostLaterals: fc.tuple(fc.constantFrom(2, Infinity), fc.constant(Infinity)),
  leastMoney: fc.tuple(fc.constant(0), fc.constantFrom(0, 20)),
  must: fc.constantFrom<readonly number[]>([], [2], [0, 3]),
  needs: fc.constantFrom<readonly (readonly [number, number])[]>([], [[2, 0]], [[3, 1]], [[0, 4]]),
});

describe("a season with something done, begun or refused", () => {
  it("chooses the rest as the best season does in which the one is a must at its cost and the other has no offer", () => {
    let feasible = 0;
    fc.assert(
      fc.property(season, offer, (plain, spent) => {
        // Lateral 0 is done, lateral 1 refused.
        const problem = holdFixed(seasonFromPlain(plain), [
          { lateral: 0, standing: "done", spent: spent.cost, opened: true, minutes: spent.minutes },
          { lateral: 1, standing: "refused", spent: 0, opened: false, minutes: [0] },
        ]);
        const best = bestByCounting({
          ...plain,
          offers: plain.offers.map((own, l) => (l === 0 ? [spent] : l === 1 ? [] : own)),
          must: [...plain.must.filter((l) => l > 1), 0],
          // Done without what it should have followed is done all the same.
          needs: plain.needs.filter(([lateral]) => lateral !== 0),
        });
        const found = selectSeason(problem, solver, exact);
        expect(found.ok ? found.worth + spent.worth : null).toBe(best);
        if (!found.ok) return;
        feasible++;
        expect(brokenRules(problem, found.chosen)).toEqual([]);
        expect([found.chosen[0], found.chosen[1]]).toEqual([-1, -1]);
      }),
      { numRuns: 120, seed: 8 },
    );
    expect(feasible).toBeGreaterThan(20);
  }, 60_000);

  it("pays for what has begun whatever is chosen: its district's opening too, as the best season in which leaving it costs what was spent", () => {
    let finished = 0;
    fc.assert(
      fc.property(season, fc.integer({ min: 1, max: 25 }), (limited, spent) => {
        const { offers, must } = limited;
        const plain: PlainSeason = {
          ...limited,
          leastLaterals: [0, 0],
          mostLaterals: [Infinity, Infinity],
          leastMoney: [0, 0],
          must: must.filter((l) => l > 0),
          needs: [],
        };
        const begun = { lateral: 0, spent, visited: [null] };
        const found = selectSeason(takeOffBegun(seasonFromPlain(plain), [begun]), solver, exact);
        const best = bestByCounting({
          ...plain,
          offers: offers.map((own, l) =>
            l > 0
              ? own
              : [
                  { worth: 0, cost: spent, minutes: [0] },
                  ...own.map((each) => ({ ...each, cost: Math.max(each.cost, spent) })),
                ],
          ),
          must: [...plain.must, 0],
        });
        expect(found.ok ? found.worth : null).toBe(best);
        if (found.ok && found.chosen[0]! >= 0) finished++;
      }),
      { numRuns: 120, seed: 9 },
    );
    expect(finished).toBeGreaterThan(20);
  }, 60_000);

  it("takes a visit that is over from the crews whatever is chosen, and from no offer again", () => {
    let chosen = 0;
    fc.assert(
      fc.property(season, fc.integer({ min: 0, max: 20 }), (limited, taken) => {
        const plain = limited;
        const own = plain.district[0]!;
        const begun = { lateral: 0, spent: 0, visited: [taken] };
        const found = selectSeason(takeOffBegun(seasonFromPlain(plain), [begun]), solver, exact);
        const best = bestByCounting({
          ...plain,
          // The visit is a lateral of its own that must be done, in a district without rules, which is what opened that of lateral 0.
          offers: [
            ...plain.offers.map((own, l) => (l > 0 ? own : own.map((each) => ({ ...each, minutes: [0] })))),
            [{ worth: 0, cost: 0, minutes: [taken] }],
          ],
          district: [...plain.district, 2],
          mobilization: [
            ...plain.mobilization.map((each, d) => (d === own ? 0 : each)),
            plain.mobilization[own]!,
          ],
          leastLaterals: [...plain.leastLaterals, 0],
          mostLaterals: [...plain.mostLaterals, Infinity],
          leastMoney: [...plain.leastMoney, 0],
          must: [...plain.must, plain.offers.length],
        });
        expect(found.ok ? found.worth : null).toBe(best);
        if (found.ok && found.chosen[0]! >= 0) chosen++;
      }),
      { numRuns: 120, seed: 10 },
    );
    expect(chosen).toBeGreaterThan(20);
  }, 60_000);

  it("has nothing left where more was spent than there is", () => {
    const plain: PlainSeason = {
      offers: [[{ worth: 5, cost: 5, minutes: [1] }], [{ worth: 5, cost: 5, minutes: [1] }]],
      district: [0, 0],
      money: 10,
      crewMinutes: [100],
      mobilization: [0],
      leastLaterals: [0],
      mostLaterals: [Infinity],
      leastMoney: [0],
      must: [],
      needs: [],
    };
    const problem = holdFixed(seasonFromPlain(plain), [
      { lateral: 0, standing: "done", spent: 12, opened: true, minutes: [1] },
    ]);
    expect(problem.money).toBe(0);
    const found = selectSeason(problem, solver, exact);
    expect(found.ok && [...found.chosen]).toEqual([-1, -1]);
  });

  it("keeps its district open that was refused when money had gone into it, by hand", () => {
    const plain: PlainSeason = {
      offers: [[{ worth: 5, cost: 5, minutes: [1] }], [{ worth: 5, cost: 5, minutes: [1] }]],
      district: [0, 0],
      money: 20,
      crewMinutes: [100],
      mobilization: [7],
      leastLaterals: [1],
      mostLaterals: [1],
      leastMoney: [0],
      must: [],
      needs: [],
    };
    const refused = (spent: number, opened: boolean) =>
      holdFixed(seasonFromPlain(plain), [{ lateral: 0, standing: "refused", spent, opened, minutes: [0] }]);
    for (const [problem, money, mobilization] of [
      [refused(3, true), 20 - 3 - 7, 0],
      [refused(0, false), 20, 7],
    ] as const) {
      expect([problem.money, problem.mobilization[0]]).toEqual([money, mobilization]);
      // It is no lateral of the district's: one is still to be done.
      expect([problem.least.laterals[0], problem.most.laterals[0]]).toEqual([1, 1]);
    }
  });

  it("is the season itself where nothing is held", () => {
    const problem = seasonFromPlain(fc.sample(season, { numRuns: 1, seed: 1 })[0]!);
    expect(holdFixed(problem, [])).toBe(problem);
  });
});
