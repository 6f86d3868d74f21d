import { beforeAll, describe, expect, it } from "vitest";
import { minutes } from "../../../src/quantity/si.ts";
import { houseWorkSteps } from "../../../src/reference/work-steps.ts";
import { packVisits } from "../../../src/season/day-packing.ts";
import { mannedSets } from "../../../src/season/manned-sets.ts";
import type { LinearSolver } from "../../../src/season/selection/linear-solver.ts";
import type { PackedRule } from "../../../src/season/selection/packed-rule.ts";
import { selectPacked } from "../../../src/season/selection/select-packed.ts";
import { loadSolver } from "../../../src/workers/highs-solver.ts";
import { seasonFromArrays } from "./season-from-arrays.ts";

let solver: LinearSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

const SHIFT = 480;

interface Visits {
  readonly whole: readonly number[];
  readonly handsOn: readonly number[];
}

/** One district, one lining crew, no money that binds: worth falls from lateral to lateral by one. */
function season({ whole, handsOn }: Visits, sets: number, days: number, travel = 0) {
  const n = whole.length;
  const problem = seasonFromArrays({
    worth: whole.map((_, l) => n - l),
    cost: whole.map(() => 1),
    // What k sets take of the shift at the least, as seasonProblem counts it.
    minutes: whole.map((each) => Math.floor(each / sets)),
    money: 1000,
    crewMinutes: days * SHIFT,
  });
  const nowhere = new Float64Array(n).fill(Number.NaN);
  const rule: PackedRule = {
    crews: ["lining"],
    crewDays: [days],
    whole: [Float64Array.from(whole)],
    handsOn: [Float64Array.from(handsOn)],
    shift: SHIFT,
    sets: [sets],
    drive: {
      betweenVisits: { averageMinutes: travel, parkMinutes: 0, detour: 1, kilometresPerHour: 30 },
      coordinateMetres: null,
    },
    x: nowhere,
    y: nowhere,
    mobilisationDays: 1,
    districtNames: ["D0"],
    notBefore: nowhere,
    done: [],
    dates: null,
  };
  const found = selectPacked(problem, rule, solver, { gap: 0, nodes: 20_000 });
  if (!found.ok) throw new Error(found.why);
  return {
    laterals: found.chosen.reduce((sum, j) => sum + (j >= 0 ? 1 : 0), 0),
    worth: found.worth,
    bound: found.bound,
    packed: found.packing.packed[0]!,
    mobilized: found.packing.mobilized[0]!,
  };
}

const times = <T>(n: number, value: T): T[] => new Array<T>(n).fill(value);
/** Worth of the first m of n laterals: n + (n − 1) + …. */
const firstOf = (n: number, m: number): number => (m * (2 * n - m + 1)) / 2;

describe("a season packed with one, two and three inflation sets", () => {
  // Twelve visits of 240 min, the crew needed for 60 of them. Starts come every max(60, 240 ÷ k) min, and the last one needs its whole 240:
  //   1 set:  0, 240                     two a day
  //   2 sets: 0, 120, 240                three a day: a fourth would end at 600
  //   3 sets: 0, 80, 160, 240            four a day, the last ends at 480 sharp
  // Three crew-days, one of them mobilisation: two days of work.
  it.each([
    [1, 4],
    [2, 6],
    [3, 8],
  ])("%i set(s) do %i laterals in two days", (sets, laterals) => {
    const visits = { whole: times(12, 240), handsOn: times(12, 60) };
    const found = season(visits, sets, 3);
    expect(found).toMatchObject({ laterals, packed: 2, mobilized: 1, worth: firstOf(12, laterals) });
    // No packing beats the bound; it does not know that the last visit of a day has to end.
    expect(found.bound).toBeGreaterThanOrEqual(found.worth);
  });

  // The same, with the crew needed for 100 of the 240 min: three sets start every 100, not every 80.
  //   2 sets: every 120, three a day; 3 sets: 0, 100, 200, and a fourth would end at 540: three a day as well.
  it("a third set is worth nothing where the crew itself is what is short", () => {
    const visits = { whole: times(12, 240), handsOn: times(12, 100) };
    expect([1, 2, 3].map((sets) => season(visits, sets, 3).laterals)).toEqual([4, 6, 6]);
  });

  // With 30 min from one lateral to the next, the first of a day driven to before the shift:
  //   1 set:  240 + 30 + 240 = 510 > 480: one a day
  //   2 sets: 0, 150: two a day; a third would start at 300 and end at 540
  //   3 sets: 0, 110, 220: three a day, the last ends at 460
  it("the way between visits counts for every number of sets", () => {
    const visits = { whole: times(12, 240), handsOn: times(12, 60) };
    expect([1, 2, 3].map((sets) => season(visits, sets, 3, 30).laterals)).toEqual([2, 4, 6]);
  });

  // Two visits of 300 (100 needed) and three of 200 (120 needed), by hand:
  //   1 set:  300 + 200 is 500, so 300 | 300 | 200 200 | 200: four days
  //   2 sets: starts every 150 and every 120, and a day must hold the longest tail of 150: 330 min of starts,
  //           150 + 150 | 120 + 120 | 120: three days
  //   3 sets: starts every 100 and every 120, longest tail 200: 280 min of starts, two of any a day: three days
  it.each([
    [1, 4],
    [2, 3],
    [3, 3],
  ])("unequal visits take %i set(s) %i days", (sets, days) => {
    const whole = [300, 300, 200, 200, 200];
    const handsOn = [100, 100, 120, 120, 120];
    const visits = whole.map((each, row) => ({
      row,
      whole: minutes(each),
      handsOn: minutes(handsOn[row]!),
    }));
    const packed = packVisits(visits, { shift: minutes(SHIFT), sets, travel: minutes(0) });
    expect(packed.crewDays).toBe(days);
    // A season of so many days and one of mobilisation takes all five; with a day less it cannot.
    expect(season({ whole, handsOn }, sets, days + 1)).toMatchObject({ laterals: 5, packed: days });
    expect(season({ whole, handsOn }, sets, days).laterals).toBeLessThan(5);
  });

  // By the table of steps most people at once in a lining visit are 4, and 1 watches a cure: 1 + (people − 4) ÷ 1 sets are manned.
  it.each([
    [4, 3, 1],
    [5, 3, 2],
    [6, 3, 3],
    [6, 2, 2],
  ])("a crew of %i with %i sets works %i of them", (people, sets, manned) => {
    const crews = { ...houseWorkSteps.crews, lining: { people, sets } };
    expect(mannedSets("lining", { ...houseWorkSteps, crews })).toBe(manned);
  });
});
