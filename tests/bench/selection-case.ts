import { RandomStream } from "../../src/engineering/random-stream.ts";
import type { PackedRule } from "../../src/season/selection/packed-rule.ts";
import type { SelectionProblem } from "../../src/season/selection/selection-problem.ts";

const DISTRICTS = 20;
const CREWS = 3;
const OFFERS = 3;

/**
 * A season of invented laterals with three offers each, in 20 districts of which each costs something to open, with three crew types, money
 * for about a fifth of the work and a least number of laterals in two districts. Dearer offers mostly gain more.
 */
export function inventSeason(laterals: number, seed: number): SelectionProblem {
  const stream = new RandomStream(seed);
  const offers = laterals * OFFERS;
  const worth = new Float64Array(offers);
  const cost = new Float64Array(offers);
  const minutes = Array.from({ length: CREWS }, () => new Float64Array(offers));
  const district = new Uint32Array(laterals);
  let allCost = 0;
  for (let l = 0; l < laterals; l++) {
    district[l] = Math.floor(stream.next() * DISTRICTS);
    const need = Math.exp(stream.between(0, 3)) * 40_000;
    for (let k = 0; k < OFFERS; k++) {
      const j = l * OFFERS + k;
      worth[j] = Math.round(need * (1 + 0.5 * k + stream.between(-0.2, 0.2)));
      cost[j] = Math.round(stream.between(0.7, 1.3) * [150_000, 350_000, 600_000][k]!);
      minutes[k % CREWS]![j] = Math.round(stream.between(60, 300));
      minutes[(k + 1) % CREWS]![j] = Math.round(stream.between(20, 90));
      allCost += cost[j]! / OFFERS;
    }
  }
  const zeros = () => new Float64Array(DISTRICTS);
  const least = { laterals: zeros(), money: zeros() };
  least.laterals[3] = Math.floor(laterals / DISTRICTS / 3);
  least.laterals[7] = Math.floor(laterals / DISTRICTS / 4);
  const none = () => zeros().fill(Infinity);
  return {
    firstOffer: Uint32Array.from({ length: laterals + 1 }, (_, l) => l * OFFERS),
    district,
    districts: DISTRICTS,
    worth,
    cost,
    minutes,
    money: Math.round(allCost * 0.2),
    crewMinutes: [laterals * 40, laterals * 45, laterals * 20],
    mobilization: zeros().map(() => Math.round((allCost / DISTRICTS) * stream.between(0.005, 0.04))),
    least,
    most: { laterals: none(), money: none() },
    must: new Uint8Array(laterals),
    mustNot: new Uint8Array(laterals),
    needs: [],
  };
}

/** Metres of street front a lateral: a district is a square that has them all at this distance. */
const APART = 25;
const SHIFT = 480;

/**
 * The invented season with its visits packed into days: each lateral at a place of its district's square, the crews' minutes as whole
 * crew-days, a day of mobilisation for each crew in each district; a season without dates.
 */
export function inventPackedSeason(laterals: number, seed: number) {
  const problem = inventSeason(laterals, seed);
  const stream = new RandomStream(seed + 1);
  const side = APART * Math.sqrt(laterals / DISTRICTS);
  const place = () =>
    Float64Array.from({ length: laterals }, () => Math.round(stream.next() * side * 100) / 100);
  const packed: PackedRule = {
    crews: ["preparation", "lining", "dig"],
    crewDays: problem.crewMinutes.map((minutes) => Math.floor(minutes / SHIFT)),
    whole: problem.minutes,
    handsOn: problem.minutes,
    shift: SHIFT,
    sets: [1, 1, 1],
    drive: {
      betweenVisits: { averageMinutes: 10, parkMinutes: 5, detour: 1.3, kilometresPerHour: 30 },
      coordinateMetres: 1,
    },
    x: place(),
    y: place(),
    mobilisationDays: 1,
    districtNames: Array.from({ length: DISTRICTS }, (_, d) => `D${d}`),
    notBefore: new Float64Array(laterals * OFFERS).fill(Number.NaN),
    done: [],
    dates: null,
  };
  return { problem, packed };
}
