import { brokenRules } from "./broken-rules.ts";
import { excessOf, packChosen } from "./packed-rule.ts";
import { type Chosen, type SelectionProblem, sumChosen } from "./selection-problem.ts";
import type { PackedCase, PackedChoice } from "./visit-shares.ts";

/** Swaps that are tried, those that save most first: each packs the districts it touches, which of many offers are big. */
const triedOf = (offers: number): number => (offers > 60_000 ? 0 : offers > 600 ? 12 : 60);
/** Offers looked at in place of one chosen, the cheapest first. */
const INSTEAD = 4;

/** Offer `out` of a lateral goes, and offer `into` of this or another lateral, worth the same, comes. */
interface Swap {
  readonly from: number;
  readonly out: number;
  readonly to: number;
  readonly into: number;
  /** Cents. */
  readonly saves: number;
}

/**
 * Of seasons worth the same a cheaper one. Which of several best a branch and bound finds is chance, and may move when nothing that matters
 * does; so works are swapped one by one for others of exactly their worth that cost less, while every rule is kept and the crews' days
 * are enough. Not the cheapest of all: that would be a second search as long as the first.
 */
export function swapForCheaper({ problem, rule }: PackedCase, from: PackedChoice): PackedChoice {
  let best = from;
  let cost = costOf(problem, best.chosen);
  for (const swap of swapsIn(problem, from.chosen)) {
    const chosen = swapped(best.chosen, swap);
    if (chosen === null || costOf(problem, chosen) >= cost || brokenRules(problem, chosen).length > 0)
      continue;
    const touched = [problem.district[swap.from], problem.district[swap.to]];
    const known = best.days.work.map((own, d) => (touched.includes(d) ? null : own));
    const days = packChosen(problem, rule, chosen, known);
    if (excessOf(rule, days).some((over) => over > 0)) continue;
    best = { chosen, days };
    cost = costOf(problem, chosen);
  }
  return best;
}

function costOf(problem: SelectionProblem, chosen: Chosen): number {
  const { works, mobilization } = sumChosen(problem, chosen);
  return works + mobilization;
}

/** Null where another swap has taken what it needs. */
function swapped(chosen: Chosen, { from, out, to, into }: Swap): Chosen | null {
  if (chosen[from] !== out || (to !== from && chosen[to]! >= 0)) return null;
  const next = chosen.slice();
  next[from] = -1;
  next[to] = into;
  return next;
}

function swapsIn(problem: SelectionProblem, chosen: Chosen): readonly Swap[] {
  const most = triedOf(problem.worth.length);
  if (most === 0) return [];
  const { firstOffer, worth, cost, must, mustNot } = problem;
  const alike = new Map<number, { readonly lateral: number; readonly offer: number }[]>();
  for (const j of chosen) if (j >= 0) alike.set(worth[j]!, []);
  for (let lateral = 0; lateral < chosen.length; lateral++) {
    if (mustNot[lateral] === 1) continue;
    for (let offer = firstOffer[lateral]!; offer < firstOffer[lateral + 1]!; offer++)
      if (offer !== chosen[lateral]) alike.get(worth[offer]!)?.push({ lateral, offer });
  }
  for (const offers of alike.values()) offers.sort((a, b) => cost[a.offer]! - cost[b.offer]!);
  const swaps: Swap[] = [];
  for (const [from, out] of chosen.entries()) {
    if (out < 0) continue;
    let found = 0;
    for (const { lateral: to, offer: into } of alike.get(worth[out]!)!) {
      const saves = cost[out]! - cost[into]!;
      if (saves <= 0 || found === INSTEAD) break;
      if (to !== from && (must[from] === 1 || chosen[to]! >= 0)) continue;
      swaps.push({ from, out, to, into, saves });
      found++;
    }
  }
  return swaps.sort((a, b) => b.saves - a.saves || a.from - b.from || a.into - b.into).slice(0, most);
}
