import { comingTo } from "./arrivals.ts";
import type { Rule } from "./limits.ts";
import { type Chosen, openedBy, type SelectionProblem } from "./selection-problem.ts";

/** A rule that a choice does not keep: what it comes to and what it may. */
export interface BrokenRule {
  readonly rule: Rule | { readonly kind: "must" | "must not" | "not its offer"; readonly lateral: number };
  readonly found: number;
  readonly limit: number;
}

export const sameRule = (a: BrokenRule["rule"], b: BrokenRule["rule"]): boolean =>
  JSON.stringify(a) === JSON.stringify(b);

/**
 * What a choice breaks, worked out from the problem alone in whole cents and minutes: nothing of the solver's is trusted here. Every
 * reported choice has passed.
 */
export function brokenRules(problem: SelectionProblem, chosen: Chosen): readonly BrokenRule[] {
  const broken: BrokenRule[] = [];
  const opened = openedBy(problem, chosen);
  let money = opened.reduce((sum, open, d) => sum + (open === 1 ? problem.mobilization[d]! : 0), 0);
  const minutes = problem.minutes.map(() => 0);
  const laterals = new Float64Array(problem.districts);
  const works = new Float64Array(problem.districts);
  for (let l = 0; l < chosen.length; l++) {
    const j = chosen[l]!;
    if (problem.must[l] === 1 && j < 0)
      broken.push({ rule: { kind: "must", lateral: l }, found: 0, limit: 1 });
    if (j < 0) continue;
    if (problem.mustNot[l] === 1) broken.push({ rule: { kind: "must not", lateral: l }, found: 1, limit: 0 });
    if (j < problem.firstOffer[l]! || j >= problem.firstOffer[l + 1]!)
      broken.push({ rule: { kind: "not its offer", lateral: l }, found: j, limit: problem.firstOffer[l]! });
    money += problem.cost[j]!;
    for (const [crew, each] of problem.minutes.entries()) minutes[crew]! += each[j]!;
    const d = problem.district[l]!;
    laterals[d]!++;
    works[d]! += problem.cost[j]!;
  }
  const { arrivals = [] } = problem;
  const coming = comingTo(arrivals, chosen, problem.district, problem.districts);
  for (const [kind, { takes }] of arrivals.entries()) {
    const districts = coming.reduce((sum, kinds) => sum + ((kinds >> kind) & 1), 0);
    for (const [crew, each] of takes.entries()) minutes[crew]! += each * districts;
  }
  const most = (rule: Rule, found: number, limit: number) => {
    if (found > limit) broken.push({ rule, found, limit });
  };
  const least = (rule: Rule, found: number, limit: number) => {
    if (found < limit) broken.push({ rule, found, limit });
  };
  most({ kind: "money" }, money, problem.money);
  for (const [crew, found] of minutes.entries())
    most({ kind: "crew", crew }, found, problem.crewMinutes[crew]!);
  for (let district = 0; district < problem.districts; district++) {
    const count = { kind: "district laterals", district } as const;
    most(count, laterals[district]!, problem.most.laterals[district]!);
    least(count, laterals[district]!, problem.least.laterals[district]!);
    const cents = { kind: "district money", district } as const;
    most(cents, works[district]!, problem.most.money[district]!);
    least(cents, works[district]!, problem.least.money[district]!);
  }
  for (const [lateral, needed] of problem.needs)
    if (chosen[lateral]! >= 0 && chosen[needed]! < 0)
      broken.push({ rule: { kind: "needs", lateral, needed }, found: 0, limit: 1 });
  return broken;
}
