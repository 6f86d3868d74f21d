import type { Limits } from "./limits.ts";
import type { SelectionProblem } from "./selection-problem.ts";

/** Sets of the kinds of crew that come to districts. */
export const setsOf = ({ arrivals = [] }: SelectionProblem): number => 1 << arrivals.length;

/** The best offer of one lateral for each set of crews that may come, and its gain: what a set can do, a larger one can too. */
export interface BestBySet {
  readonly gains: Float64Array;
  readonly offers: Int32Array;
}

/** Fills in {@link BestBySet}. @param gainBy of an offer */
export function bestBySet(
  problem: SelectionProblem,
  brings: Uint8Array,
  usable: Uint8Array,
  gainBy: (j: number) => number,
  l: number,
  { gains, offers }: BestBySet,
): void {
  gains.fill(problem.must[l] === 1 ? Number.NEGATIVE_INFINITY : 0);
  offers.fill(-1);
  for (let j = problem.firstOffer[l]!; j < problem.firstOffer[l + 1]!; j++) {
    if (usable[j] === 0) continue;
    const gain = gainBy(j);
    const set = brings[j]!;
    if (gain > gains[set]!) {
      gains[set] = gain;
      offers[set] = j;
    }
  }
  for (let bit = 1; bit < gains.length; bit <<= 1)
    for (let set = 0; set < gains.length; set++) {
      if ((set & bit) === 0 || !(gains[set ^ bit]! > gains[set]!)) continue;
      gains[set] = gains[set ^ bit]!;
      offers[set] = offers[set ^ bit]!;
    }
}

/** What the coming of a set of crews to a district costs at these prices. */
export function priceOfComing(
  { arrivals = [] }: SelectionProblem,
  limits: Limits,
  prices: Float64Array,
  d: number,
  set: number,
): number {
  let price = 0;
  for (const [kind, { takes, isThere }] of arrivals.entries()) {
    if (((set >> kind) & 1) === 0 || isThere[d] === 1) continue;
    for (const [crew, each] of takes.entries())
      if (limits.crewRows[crew]! >= 0) price += prices[limits.crewRows[crew]!]! * each;
  }
  return price;
}
