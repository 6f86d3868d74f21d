import { lateralsOf, type SelectionProblem } from "./selection-problem.ts";

/** Why an offer need not be looked at; `usable` is 0. */
export const offerFates = ["usable", "must not", "fits no season", "gains nothing", "dominated"] as const;
export type OfferFate = (typeof offerFates)[number];
const USABLE = offerFates.indexOf("usable");

/**
 * Offers that no best season can need, taken out before anything is solved: those that alone do not fit money or crew time; those
 * that gain nothing; those beside which the same lateral has one that gains no less and takes no more of any resource.
 *
 * Where a district must get money or laterals, or a lateral must be done or is needed by another, an offer that gains nothing may still
 * be wanted; where a district must get money, a dearer one may. Offers under the convex hull of their lateral stay: with whole
 * laterals and several limits a best season may need them (Kellerer, Pferschy, Pisinger, Knapsack Problems, 2004, ch. 11, for one
 * limit: only the relaxation never uses them).
 *
 * @returns an index into offerFates for each offer
 */
export function judgeOffers(problem: SelectionProblem): Uint8Array {
  const fates = new Uint8Array(problem.worth.length);
  const needed = new Set(problem.needs.map(([, wanted]) => wanted));
  for (let l = 0; l < lateralsOf(problem); l++) {
    const d = problem.district[l]!;
    const moneyWanted = problem.least.money[d]! > 0;
    const wanted = moneyWanted || problem.least.laterals[d]! > 0 || problem.must[l] === 1 || needed.has(l);
    const from = problem.firstOffer[l]!;
    const to = problem.firstOffer[l + 1]!;
    for (let j = from; j < to; j++) fates[j] = offerFates.indexOf(judgeAlone(problem, l, j, wanted));
    if (moneyWanted) continue;
    for (let j = from; j < to; j++) {
      for (let k = from; k < to && fates[j] === USABLE; k++)
        if (k !== j && fates[k] === USABLE && dominates(problem, k, j))
          fates[j] = offerFates.indexOf("dominated");
    }
  }
  return fates;
}

function judgeAlone(problem: SelectionProblem, l: number, j: number, wanted: boolean): OfferFate {
  if (problem.mustNot[l] === 1) return "must not";
  const opening = problem.mobilization[problem.district[l]!]!;
  const tooLong = problem.crewMinutes.some((most, crew) => problem.minutes[crew]![j]! > most);
  if (tooLong || problem.cost[j]! + opening > problem.money) return "fits no season";
  if (problem.worth[j]! <= 0 && !wanted) return "gains nothing";
  return "usable";
}

/** Equal in everything: the earlier offer stays. */
function dominates(problem: SelectionProblem, k: number, j: number): boolean {
  const { worth, cost, minutes } = problem;
  const noWorse =
    worth[k]! >= worth[j]! && cost[k]! <= cost[j]! && minutes.every((each) => each[k]! <= each[j]!);
  if (!noWorse) return false;
  const same = worth[k] === worth[j] && cost[k] === cost[j] && minutes.every((each) => each[k] === each[j]);
  return !same || k < j;
}
