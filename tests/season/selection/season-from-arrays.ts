import type { SelectionProblem } from "../../../src/season/selection/selection-problem.ts";

interface Given {
  readonly worth: readonly number[];
  readonly cost: readonly number[];
  readonly minutes?: readonly number[];
  readonly district?: readonly number[];
  readonly money: number;
  readonly crewMinutes?: number;
  readonly mobilization?: readonly number[];
  readonly leastLaterals?: readonly number[];
  readonly must?: readonly number[];
  readonly needs?: readonly (readonly [number, number])[];
}

/** A season with one offer a lateral and one crew, for cases worked by hand. */
export function seasonFromArrays(given: Given): SelectionProblem {
  const n = given.worth.length;
  const mobilization = given.mobilization ?? [0];
  const districts = mobilization.length;
  const none = () => new Float64Array(districts).fill(Infinity);
  return {
    firstOffer: Uint32Array.from({ length: n + 1 }, (_, l) => l),
    district: Uint32Array.from(given.district ?? new Array(n).fill(0)),
    districts,
    worth: Float64Array.from(given.worth),
    cost: Float64Array.from(given.cost),
    minutes: [Float64Array.from(given.minutes ?? new Array(n).fill(0))],
    money: given.money,
    crewMinutes: [given.crewMinutes ?? Infinity],
    mobilization: Float64Array.from(mobilization),
    least: {
      laterals: Float64Array.from(given.leastLaterals ?? new Array(districts).fill(0)),
      money: new Float64Array(districts),
    },
    most: { laterals: none(), money: none() },
    must: Uint8Array.from({ length: n }, (_, l) => (given.must?.includes(l) ? 1 : 0)),
    mustNot: new Uint8Array(n),
    needs: given.needs ?? [],
  };
}
