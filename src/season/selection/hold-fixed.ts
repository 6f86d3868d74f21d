import type { HeldStanding } from "../tracking.ts";
import type { DistrictLimits, SelectionProblem } from "./selection-problem.ts";

/** A lateral that the season may not choose about any more, or not before a cross-bore is made safe. */
export interface HeldLateral {
  readonly lateral: number;
  readonly standing: HeldStanding;
  /** Cents it has cost, of those that the budget counts. */
  readonly spent: number;
  /** Whether work on it has opened its district. */
  readonly opened: boolean;
  /** Minutes it has taken, by crew type. */
  readonly minutes: readonly number[];
}

/** A lateral whose work has begun: it is chosen about, but money has gone into it whatever is chosen. */
export interface BegunLateral {
  readonly lateral: number;
  /** Cents it has cost so far. */
  readonly spent: number;
  /** By crew type, minutes of a visit that is over: none of its offers has that visit any more. Null where the crew is still to come. */
  readonly visited: readonly (number | null)[];
}

interface Work {
  readonly held: readonly HeldLateral[];
  readonly begun: readonly BegunLateral[];
}

/** Cents that are gone whatever is chosen: spent on what is begun, done or refused, and on opening the districts where work has begun. */
export function spentSoFar(problem: SelectionProblem, { held, begun }: Work) {
  const works = [...held, ...begun].reduce((sum, { spent }) => sum + spent, 0);
  const opened = openedAlready(problem, { held, begun });
  const opening = opened.reduce((sum, d) => sum + problem.mobilization[d]!, 0);
  return { works, opening, opened: opened.length };
}

const openedAlready = ({ district }: SelectionProblem, { held, begun }: Work): readonly number[] => [
  ...new Set([...held.filter(({ opened }) => opened), ...begun].map(({ lateral }) => district[lateral]!)),
];

/** What is gone of each district's limits: laterals that are done, cents that are spent. */
export function takenByDistrict(
  { district, districts }: SelectionProblem,
  { held, begun }: Work,
): DistrictLimits {
  const taken = { laterals: new Float64Array(districts), money: new Float64Array(districts) };
  for (const { lateral, spent } of [...held, ...begun]) taken.money[district[lateral]!]! += spent;
  for (const { lateral, standing } of held) if (standing === "done") taken.laterals[district[lateral]!]! += 1;
  return taken;
}

/**
 * A season when work has begun on some of its laterals: what was spent on them is not there any more, in their districts' limits neither, and
 * each of their offers costs what is still to be spent on it, never less than nothing; their districts are opened. So with the crews' time:
 * what visits that are over have taken is gone, and no offer takes it again.
 */
export function takeOffBegun(problem: SelectionProblem, begun: readonly BegunLateral[]): SelectionProblem {
  if (begun.length === 0) return problem;
  const cost = problem.cost.slice();
  const minutes = problem.minutes.map((each) => each.slice());
  const crewMinutes = [...problem.crewMinutes];
  const least = problem.least.money.slice();
  const most = problem.most.money.slice();
  const mobilization = problem.mobilization.slice();
  let { money } = problem;
  for (const { lateral, spent, visited } of begun) {
    const d = problem.district[lateral]!;
    money -= spent + mobilization[d]!;
    mobilization[d] = 0;
    least[d] = Math.max(0, least[d]! - spent);
    most[d] = Math.max(0, most[d]! - spent);
    const [first, end] = [problem.firstOffer[lateral]!, problem.firstOffer[lateral + 1]!];
    for (let j = first; j < end; j++) cost[j] = Math.max(0, cost[j]! - spent);
    for (const [crew, taken] of visited.entries()) {
      if (taken === null) continue;
      crewMinutes[crew]! -= taken;
      minutes[crew]!.fill(0, first, end);
    }
  }
  return {
    ...problem,
    cost,
    minutes,
    mobilization,
    crewMinutes: crewMinutes.map((most) => Math.max(0, most)),
    money: Math.max(0, money),
    least: { ...problem.least, money: least },
    most: { ...problem.most, money: most },
  };
}

/**
 * What is left to choose when some laterals are held fixed. Those that are done have spent their money and crew time, opened their district
 * and count in its limits; they and the refused ones, which may have opened theirs, are chosen about no more; nor is what is held back. A lateral that needs a
 * done one is free; one that needs a refused one, or one that is held back, cannot be done. Where more was spent than there is, nothing is
 * left: a limit never falls below 0. What is held back and must be done stays so: then no season keeps the rules, and that is said.
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
  for (const { lateral, standing, spent, opened, minutes } of held) {
    if (standing !== "held back") must[lateral] = 0;
    mustNot[lateral] = 1;
    money -= spent;
    for (const [crew, taken] of minutes.entries()) crewMinutes[crew]! -= taken;
    const d = problem.district[lateral]!;
    for (const limit of [least.money, most.money]) limit[d]! -= spent;
    if (standing === "done") {
      done.add(lateral);
      for (const limit of [least.laterals, most.laterals]) limit[d]! -= 1;
    }
    if (!opened) continue;
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
