import type { SelectionProblem } from "./selection-problem.ts";

/** A lateral that the season may not choose about any more. */
export interface HeldLateral {
  readonly lateral: number;
  readonly standing: "done" | "refused";
  /** Cents it has cost. */
  readonly spent: number;
  /** Minutes it has taken, by crew type. */
  readonly minutes: readonly number[];
}

/**
 * What is left to choose when some laterals are held fixed. Those that are done have spent their money and crew time, opened their district
 * and count in its limits; they and the refused ones are chosen about no more. A lateral that needs a done one is free; one that
 * needs a refused one cannot be done. Where more was spent than there is, nothing is left: a limit never falls below 0.
 *
 * Worth of what is done is not in the problem's worth any more.
 */
export function holdFixed(problem: SelectionProblem, held: readonly HeldLateral[]): SelectionProblem {
  if (held.length === 0) return problem;
  const must = problem.must.slice();
  const mustNot = problem.mustNot.slice();
  const mobilization = problem.mobilization.slice();
  const least = { laterals: problem.least.laterals.slice(), money: problem.least.money.slice() };
  const most = { laterals: problem.most.laterals.slice(), money: problem.most.money.slice() };
  const crewMinutes = [...problem.crewMinutes];
  let { money } = problem;
  const done = new Set<number>();
  for (const { lateral, standing, spent, minutes } of held) {
    must[lateral] = 0;
    mustNot[lateral] = 1;
    money -= spent;
    for (const [crew, taken] of minutes.entries()) crewMinutes[crew]! -= taken;
    const d = problem.district[lateral]!;
    for (const limit of [least.money, most.money]) limit[d]! -= spent;
    if (standing === "refused") continue;
    done.add(lateral);
    for (const limit of [least.laterals, most.laterals]) limit[d]! -= 1;
    money -= mobilization[d]!;
    mobilization[d] = 0;
  }
  const notBelowZero = (limits: Float64Array) => limits.map((limit) => Math.max(0, limit));
  const isHeld = new Set(held.map(({ lateral }) => lateral));
  const needs = problem.needs.filter(([lateral, needed]) => !isHeld.has(lateral) && !done.has(needed));
  refuseFollowers(needs, mustNot);
  return {
    ...problem,
    must,
    mustNot,
    mobilization,
    needs,
    money: Math.max(0, money),
    crewMinutes: crewMinutes.map((most) => Math.max(0, most)),
    least: { laterals: notBelowZero(least.laterals), money: notBelowZero(least.money) },
    most: { laterals: notBelowZero(most.laterals), money: notBelowZero(most.money) },
  };
}

/** Who needs what must not be done must not be done either, along the whole chain. */
function refuseFollowers(needs: SelectionProblem["needs"], mustNot: Uint8Array): void {
  for (let changed = true; changed; ) {
    changed = false;
    for (const [lateral, needed] of needs) {
      if (mustNot[needed] !== 1 || mustNot[lateral] === 1) continue;
      mustNot[lateral] = 1;
      changed = true;
    }
  }
}
