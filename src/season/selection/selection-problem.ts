import type { Arrival } from "./arrivals.ts";

/**
 * What a season chooses from and within which rules, as flat arrays: laterals are 0 … n − 1, the offers of lateral `l` are
 * `firstOffer[l]` … `firstOffer[l + 1]` − 1. Money is whole cents, time whole minutes, so that every sum is exact.
 */
export interface SelectionProblem {
  readonly firstOffer: Uint32Array;
  /** District of each lateral, an index. */
  readonly district: Uint32Array;
  readonly districts: number;
  /** What an offer gains: expected loss avoided, infiltration removed, or a stated mix. Never a score of 1 to 25. */
  readonly worth: Float64Array;
  /** Cents of each offer. */
  readonly cost: Float64Array;
  /** Minutes of each offer, by crew type. */
  readonly minutes: readonly Float64Array[];
  /** Cents that may be spent: the budget less its reserve, works and mobilisation together. */
  readonly money: number;
  /** Minutes each crew type has; Infinity where nobody limits it. */
  readonly crewMinutes: readonly number[];
  /** Cents to open each district, once. */
  readonly mobilization: Float64Array;
  /** Laterals and cents of works each district gets at least, and at most (Infinity: no limit). */
  readonly least: DistrictLimits;
  readonly most: DistrictLimits;
  /** By lateral. */
  readonly must: Uint8Array;
  readonly mustNot: Uint8Array;
  /** The first lateral of a pair is done only if the second one is. */
  readonly needs: readonly (readonly [lateral: number, needed: number])[];
  /** Kinds of crew that come to districts and work whole days there; none where crew time is counted in minutes. */
  readonly arrivals?: readonly Arrival[];
}

export interface DistrictLimits {
  readonly laterals: Float64Array;
  readonly money: Float64Array;
}

/** One offer chosen for each lateral, or −1. */
export type Chosen = Int32Array;

export const lateralsOf = (problem: SelectionProblem): number => problem.firstOffer.length - 1;

/** Districts opened by a choice. */
export function openedBy(problem: SelectionProblem, chosen: Chosen): Uint8Array {
  const opened = new Uint8Array(problem.districts);
  for (let l = 0; l < chosen.length; l++) if (chosen[l]! >= 0) opened[problem.district[l]!] = 1;
  return opened;
}

/** What a choice comes to. */
export interface SelectionSums {
  readonly laterals: number;
  readonly worth: number;
  /** Cents of works, and of opening districts. */
  readonly works: number;
  readonly mobilization: number;
  /** By crew type. */
  readonly minutes: readonly number[];
}

export function sumChosen(problem: SelectionProblem, chosen: Chosen): SelectionSums {
  let laterals = 0;
  let worth = 0;
  let works = 0;
  const minutes = problem.minutes.map(() => 0);
  for (const offer of chosen) {
    if (offer < 0) continue;
    laterals++;
    worth += problem.worth[offer]!;
    works += problem.cost[offer]!;
    for (const [crew, each] of problem.minutes.entries()) minutes[crew]! += each[offer]!;
  }
  let mobilization = 0;
  for (const [d, open] of openedBy(problem, chosen).entries())
    if (open === 1) mobilization += problem.mobilization[d]!;
  return { laterals, worth, works, mobilization, minutes };
}
