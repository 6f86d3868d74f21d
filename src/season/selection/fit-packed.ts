import type { CrewWork } from "../day-packing.ts";
import { brokenRules } from "./broken-rules.ts";
import { excessOf, onTrial, type PackedDays, type PackedRule, packChosen } from "./packed-rule.ts";
import { type Chosen, lateralsOf, type SelectionProblem, sumChosen } from "./selection-problem.ts";
import type { PackedCase, PackedChoice } from "./visit-shares.ts";

/**
 * Takes laterals out until the rest fits, those first that are least worth the packed days they take of crews that are over. A lateral
 * that must be done, that a district needs for its least, or that another one needs which stays, is not taken out. Where
 * that leaves nothing to take, what is left does not fit.
 */
export function dropToFit(given: PackedCase, from: PackedChoice): PackedChoice {
  const { problem, rule } = given;
  const chosen = from.chosen.slice();
  let { days } = from;
  let isGuess = false;
  for (;;) {
    const excess = excessOf(rule, days);
    const isOver = excess.some((over) => over > 0);
    const changed = isOver ? dropSome(given, chosen, days, excess) : new Set<number>();
    if (changed.size > 0) {
      days = repack(problem, rule, chosen, days, changed);
      isGuess = true;
    } else if (isGuess) {
      days = packChosen(problem, rule, chosen);
      isGuess = false;
    } else return { chosen, days };
  }
}

/** Takes out as many as should free what is over, by the mean days of their district. Returns the districts changed. */
function dropSome(
  given: PackedCase,
  chosen: Chosen,
  days: PackedDays,
  excess: readonly number[],
): ReadonlySet<number> {
  const { problem, rule } = given;
  const takes = daysTaken(given, chosen, days);
  const over = rule.crews.map((_, crew) => crew).filter((crew) => excess[crew]! > 0);
  const needers = neededBy(problem);
  const candidates = [...chosen.keys()]
    .filter((l) => chosen[l]! >= 0 && problem.must[l] === 0 && over.some((crew) => takes(l, crew) > 0))
    .map((l) => ({
      l,
      ratio: problem.worth[chosen[l]!]! / over.reduce((sum, crew) => sum + takes(l, crew), 0),
    }))
    .sort((a, b) => a.ratio - b.ratio || a.l - b.l);
  const left = [...excess];
  const inDistrict = new Float64Array(problem.districts);
  const works = new Float64Array(problem.districts);
  for (const [l, j] of chosen.entries()) {
    if (j < 0) continue;
    inDistrict[problem.district[l]!]!++;
    works[problem.district[l]!]! += problem.cost[j]!;
  }
  const changed = new Set<number>();
  for (const { l } of candidates) {
    if (left.every((each) => each <= 0)) break;
    const j = chosen[l]!;
    const d = problem.district[l]!;
    const isWanted =
      inDistrict[d]! - 1 < problem.least.laterals[d]! ||
      works[d]! - problem.cost[j]! < problem.least.money[d]! ||
      (needers.get(l) ?? []).some((other) => chosen[other]! >= 0);
    if (isWanted || !over.some((crew) => left[crew]! > 0 && takes(l, crew) > 0)) continue;
    for (const crew of over) left[crew]! -= takes(l, crew);
    chosen[l] = -1;
    inDistrict[d]!--;
    works[d]! -= problem.cost[j]!;
    changed.add(d);
  }
  return changed;
}

/** Packed days of a crew shared out over the laterals of a district, by the least days of their visits; mobilisation with them. */
function daysTaken({ problem, rule, shares }: PackedCase, chosen: Chosen, { work }: PackedDays) {
  const share = (l: number, crew: number): number =>
    chosen[l]! < 0 ? 0 : shares.ofOffer[crew]![chosen[l]!]!;
  const sums = rule.crews.map((_, crew) => {
    const sum = new Float64Array(problem.districts);
    for (const l of chosen.keys()) sum[problem.district[l]!]! += share(l, crew);
    return sum;
  });
  return (l: number, crew: number): number => {
    const own = share(l, crew);
    const d = problem.district[l]!;
    const days = work[d]!.find((each) => each.crew === rule.crews[crew])?.crewDays ?? 0;
    return own === 0 ? 0 : ((days + rule.mobilisationDays) * own) / sums[crew]![d]!;
  };
}

function neededBy({ needs }: SelectionProblem): ReadonlyMap<number, readonly number[]> {
  const by = new Map<number, number[]>();
  for (const [lateral, needed] of needs) by.set(needed, [...(by.get(needed) ?? []), lateral]);
  return by;
}

/** Packings that filling up may try, and visits in them: counted, so that the same program gives the same season. */
const TRIES = 400;
const VISITS_PACKED = 20_000;
/** Choices it may look at whole, packed or not. */
const LOOKS = 4000;

/**
 * Puts into a choice that fits what still fits, most worth first for the parts of money and days it takes: laterals that are out, and
 * offers worth more for laterals that are in. Each is packed before it stays.
 *
 * @param enough a worth with which it ends
 */
export function fillUp(
  given: PackedCase,
  from: PackedChoice,
  enough = Number.POSITIVE_INFINITY,
): PackedChoice {
  const { problem, rule } = given;
  const chosen = from.chosen.slice();
  let { days } = from;
  const trial = onTrial(rule);
  let tries = 0;
  let visits = 0;
  let looks = 0;
  let { worth } = sumChosen(problem, chosen);
  let spent = moneyOf(problem, chosen);
  for (const { l, j } of additions(given, chosen)) {
    if (tries >= TRIES || visits >= VISITS_PACKED || looks >= LOOKS || worth >= enough) break;
    const was = chosen[l]!;
    if (was >= 0 && problem.worth[was]! >= problem.worth[j]!) continue;
    // Without districts opened: what is already too dear is not looked at.
    const cost = problem.cost[j]! - (was < 0 ? 0 : problem.cost[was]!);
    if (spent + cost > problem.money) continue;
    chosen[l] = j;
    looks++;
    const isKept = brokenRules(problem, chosen).length === 0;
    if (isKept) {
      tries++;
      for (const each of days.work[problem.district[l]!]!) visits += each.visits;
      const next = repack(problem, trial, chosen, days, new Set([problem.district[l]!]));
      if (excessOf(rule, next).every((over) => over === 0)) {
        days = next;
        spent = moneyOf(problem, chosen);
        ({ worth } = sumChosen(problem, chosen));
        continue;
      }
    }
    chosen[l] = was;
  }
  // Ways were guessed where many visits are: what does not fit after all goes again.
  return dropToFit(given, { chosen, days: packChosen(problem, rule, chosen) });
}

const moneyOf = (problem: SelectionProblem, chosen: Chosen): number => {
  const { works, mobilization } = sumChosen(problem, chosen);
  return works + mobilization;
};

function additions({ problem, rule, shares }: PackedCase, chosen: Chosen) {
  const found: { readonly l: number; readonly j: number; readonly ratio: number }[] = [];
  for (let l = 0; l < lateralsOf(problem); l++) {
    if (problem.mustNot[l] === 1) continue;
    const was = chosen[l]!;
    const before = was < 0 ? 0 : problem.worth[was]!;
    for (let j = problem.firstOffer[l]!; j < problem.firstOffer[l + 1]!; j++) {
      const more = problem.worth[j]! - before;
      if (!(more > 0)) continue;
      let takes = problem.cost[j]! / Math.max(1, problem.money);
      for (const [crew, has] of rule.crewDays.entries())
        if (has < Infinity) takes += shares.ofOffer[crew]![j]! / Math.max(1, has);
      found.push({ l, j, ratio: more / Math.max(takes, 1e-12) });
    }
  }
  return found.sort((a, b) => b.ratio - a.ratio || a.j - b.j);
}

/** Packs again the districts that have changed: on trial, see packChosen. */
function repack(
  problem: SelectionProblem,
  rule: PackedRule,
  chosen: Chosen,
  { work }: PackedDays,
  changed: ReadonlySet<number>,
): PackedDays {
  const known = work.map((own, d): readonly CrewWork[] | null => (changed.has(d) ? null : own));
  return packChosen(problem, rule, chosen, known, work);
}
