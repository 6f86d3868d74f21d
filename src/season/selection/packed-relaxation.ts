import { leastTravel } from "../day-packing.ts";
import { type PackedRule, paceAt } from "./packed-rule.ts";
import type { SelectionProblem } from "./selection-problem.ts";

/** Crew-days of a visit are counted in hundredths of a minute of the shift, downwards: a bound must not be rounded up. */
export const FINE = 100;
/** Visits a day that are counted apart: one, two, three; more of them a day are near enough to minutes. */
const COUNTED = [1, 2, 3];

/** How a solved season was packed, by which a next one is judged more truly than the bound does. */
export interface Correction {
  /** Days as packed over days as relaxed, by crew and district. */
  readonly ratio: readonly Float64Array[];
  /** Crew-days there are for visits, mobilisation and allowance taken off. */
  readonly days: readonly number[];
}

/**
 * The season with crew-days counted as no packing can beat, in place of minutes over the shift: its optimum bounds every season
 * that fits as packed. For each limited kind of crew it has these rows over the offers, with D its crew-days less one mobilisation:
 *
 *   Σ x ≤ D  with  x = (pace + p) ÷ (shift + p), and ⌈whole ÷ shift⌉ for a visit longer than a shift
 *   Σ n ≤ k·D  for k = 1, 2, 3, with n the greatest whole number below (k + 1)·x, and k·⌈whole ÷ shift⌉ for a longer one
 *
 * Why: p is the least minutes of the way between two visits, so a day that holds visits has Σ (pace + t) ≤ shift + t for some
 * t ≥ p (see packVisits), of which Σ x ≤ 1 follows, since a part of a shift only grows when the same way is added to both. Then
 * Σ n < (k + 1) Σ x ≤ k + 1 for that day, and whole numbers below k + 1 are at most k. So two visits that take more than half a
 * day each count two days. What else a packing costs (fillings that leave a rest, districts mobilised beyond the first, dates) is
 * not in it: the bound stays above what can be done.
 *
 * @param correction makes of it the judgement of a next round; then it bounds nothing any more
 */
export function relaxPacked(
  problem: SelectionProblem,
  rule: PackedRule,
  correction: Correction | null = null,
): SelectionProblem {
  const minutes: Float64Array[] = [];
  const crewMinutes: number[] = [];
  for (const [crew, has] of rule.crewDays.entries()) {
    if (!(has < Infinity)) continue;
    const days = correction === null ? Math.max(0, has - rule.mobilisationDays) : correction.days[crew]!;
    const ratio = (l: number) => (correction === null ? 1 : correction.ratio[crew]![problem.district[l]!]!);
    const { parts, counts } = sharesOf(problem, rule, crew);
    const gone = goneBy(rule, crew);
    minutes.push(parts.map((part, j) => Math.floor(part * rule.shift * FINE * ratio(lateralOf(problem, j)))));
    crewMinutes.push(Math.max(0, Math.floor((days - gone.part) * rule.shift * FINE)));
    for (const [i, k] of COUNTED.entries()) {
      minutes.push(counts[i]!);
      crewMinutes.push(Math.max(0, k * days - gone.counts[i]!));
    }
  }
  return { ...problem, minutes, crewMinutes };
}

/** The least part of a crew-day that a visit takes, and its whole numbers n for each k. 0 where the crew does not come. */
export function visitShare(rule: PackedRule, crew: number, whole: number, handsOn: number) {
  if (whole === 0) return { part: 0, counts: COUNTED.map(() => 0) };
  if (whole > rule.shift) {
    const days = Math.ceil(whole / rule.shift);
    return { part: days, counts: COUNTED.map((k) => k * days) };
  }
  const way = leastTravel(rule.drive);
  const takes = paceAt(rule, crew, whole, handsOn) + way;
  const of = rule.shift + way;
  // Whole numbers are compared before they are divided, as far as pace is whole; a last digit too little only loosens the bound.
  return {
    part: takes / of,
    counts: COUNTED.map((k) => Math.max(0, Math.ceil(((k + 1) * takes) / of - 1e-9) - 1)),
  };
}

function sharesOf(problem: SelectionProblem, rule: PackedRule, crew: number) {
  const offers = problem.worth.length;
  const parts = new Float64Array(offers);
  const counts = COUNTED.map(() => new Float64Array(offers));
  for (let j = 0; j < offers; j++) {
    const share = visitShare(rule, crew, rule.whole[crew]![j]!, rule.handsOn[crew]![j]!);
    parts[j] = share.part;
    for (const [i, count] of share.counts.entries()) counts[i]![j] = count;
  }
  return { parts, counts };
}

function goneBy(rule: PackedRule, crew: number) {
  const shares = rule.done.map(({ whole, handsOn }) => visitShare(rule, crew, whole[crew]!, handsOn[crew]!));
  return {
    part: shares.reduce((sum, { part }) => sum + part, 0),
    counts: COUNTED.map((_, i) => shares.reduce((sum, { counts }) => sum + counts[i]!, 0)),
  };
}

/** The lateral of an offer, by halving. */
export function lateralOf({ firstOffer }: SelectionProblem, j: number): number {
  let low = 0;
  let high = firstOffer.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (firstOffer[middle]! <= j) low = middle;
    else high = middle;
  }
  return low;
}
