import { brokenRules } from "./broken-rules.ts";
import { dropToFit, fillUp } from "./fit-packed.ts";
import type { LinearSolver } from "./linear-solver.ts";
import { type Correction, relaxPacked, visitShare } from "./packed-relaxation.ts";
import { excessOf, type PackedDays, type PackedRule, packChosen } from "./packed-rule.ts";
import { type Selection, type SelectionStops, selectSeason, usualStops } from "./select-season.ts";
import { type Chosen, openedBy, type SelectionProblem, sumChosen } from "./selection-problem.ts";

type Proven = Extract<Selection, { readonly ok: true }>;

/** What packing the season into days came to. */
export interface Packing {
  /** Crew-days by kind of crew, as packed and as mobilised: at most what there is. */
  readonly packed: readonly number[];
  readonly mobilised: readonly number[];
  /** The best season by counted crew time, unpacked: its worth, and by how many crew-days of each kind it does not fit. */
  readonly unpacked: { readonly worth: number; readonly excess: readonly number[] };
  /** Times the season was solved, the unpacked one counted. */
  readonly rounds: number;
}

export type PackedSelection =
  | (Omit<Proven, "ended"> & {
      /** "packed": it fits, and the bound, which knows no packing, is farther off than the gap asked for. */
      readonly ended: Proven["ended"] | "packed";
      readonly packing: Packing;
    })
  | Extract<Selection, { readonly ok: false }>
  | {
      readonly ok: false;
      readonly why: "does not fit as packed";
      /** Crew-days more, by kind of crew, with which all of them together a season was found; none was found without. */
      readonly more: readonly number[];
    };

/** Rounds after the first; fewer where one takes long. */
const ROUNDS = 5;
const ROUNDS_OF_MANY = 2;
const MANY_OFFERS = 60_000;
/** A later round need not be nearer than this: its judgement of days is less exact. */
const ROUND_GAP = 0.0005;

/**
 * The season's best choice that its crews can work: packed into whole days as the calendar packs them, within the crew-days and dates.
 *
 * The first round solves the relaxation of packed-relaxation.ts; its bound holds for every season that fits. Where its choice
 * does not fit, the days it took as packed, with mobilisation, judge the offers of the next round; each choice is also mended: what
 * is least worth its days goes (dropToFit), what still fits comes in (fillUp), a district is closed where that gains (closeDistricts).
 * The best that fits is the answer, and the first
 * round's bound says how far another could be better at most. A heuristic with a proven bound: rounds are counted, not timed, so the same
 * program gives the same season.
 */
export function selectPacked(
  problem: SelectionProblem,
  rule: PackedRule,
  solver: LinearSolver,
  stops: SelectionStops = usualStops,
): PackedSelection {
  const first = selectSeason(relaxPacked(problem, rule), solver, stops);
  if (!first.ok) {
    const near = first.why === "no choice keeps the rules" ? nearest(problem, rule, solver, stops) : first;
    if ("ok" in near) return near;
    throw new RangeError("selectPacked: a season fits that the relaxation rules out");
  }
  const days = packChosen(problem, rule, first.chosen);
  const excess = excessOf(rule, days);
  const unpacked = { worth: first.worth, excess };
  if (fits(excess)) return { ...first, packing: packingOf(days, unpacked, 1) };

  const search = searchRounds(problem, rule, solver, stops, { first, days });
  const best = search.best ?? nearest(problem, rule, solver, stops);
  if ("ok" in best) return best;
  const { chosen, worth } = best;
  const gap = gapOf(worth, first.bound);
  return {
    ...first,
    chosen,
    worth,
    gap,
    ended: gap <= stops.gap ? "proven" : first.ended === "proven" ? "packed" : first.ended,
    packing: packingOf(best.days, unpacked, search.rounds),
  };
}

interface Candidate {
  readonly chosen: Chosen;
  readonly worth: number;
  readonly days: PackedDays;
}

function searchRounds(
  problem: SelectionProblem,
  rule: PackedRule,
  solver: LinearSolver,
  stops: SelectionStops,
  { first, days: firstDays }: { readonly first: Proven; readonly days: PackedDays },
): { readonly best: Candidate | null; readonly rounds: number } {
  const stopAsked = stops.stopAsked ?? (() => false);
  const most = problem.worth.length > MANY_OFFERS ? ROUNDS_OF_MANY : ROUNDS;
  const allowance = rule.crews.map(() => 0);
  let best: Candidate | null = null;
  let chosen = first.chosen;
  let days = firstDays;
  let rounds = 1;
  for (;;) {
    const mended = mend(problem, rule, chosen, days);
    if (mended !== null && (best === null || mended.worth > best.worth)) best = mended;
    stops.progress?.(best?.worth ?? Number.NEGATIVE_INFINITY, first.bound);
    if (rounds > most || stopAsked()) break;
    if (best !== null && gapOf(best.worth, first.bound) <= stops.gap) break;
    const corrected = relaxPacked(problem, rule, correctionOf(problem, rule, chosen, days, allowance));
    const answer = selectSeason(corrected, solver, {
      gap: Math.max(stops.gap, ROUND_GAP),
      nodes: stops.nodes,
      ...(stops.stopAsked === undefined ? {} : { stopAsked: stops.stopAsked }),
    });
    rounds++;
    if (!answer.ok) break;
    const isSame = answer.chosen.every((j, l) => j === chosen[l]);
    chosen = answer.chosen;
    days = packChosen(problem, rule, chosen);
    const excess = excessOf(rule, days);
    if (isSame && fits(excess)) break;
    for (const [crew, over] of excess.entries()) allowance[crew]! += over;
  }
  return { best: best === null ? null : closeDistricts(problem, rule, best), rounds };
}

/** Districts that are tried closed, those worth least first. */
const CLOSED = 8;

/** A season without one of its districts, filled up with what its mobilisation leaves room for, where that is worth more. */
function closeDistricts(problem: SelectionProblem, rule: PackedRule, given: Candidate): Candidate {
  const worth = new Float64Array(problem.districts);
  for (const [l, j] of given.chosen.entries()) if (j >= 0) worth[problem.district[l]!]! += problem.worth[j]!;
  const opened = [...openedBy(problem, given.chosen).entries()]
    .flatMap(([d, isOpen]) => (isOpen === 1 ? [d] : []))
    .sort((a, b) => worth[a]! - worth[b]! || a - b);
  let best = given;
  for (const d of opened.slice(0, CLOSED)) {
    const chosen = best.chosen.map((j, l) => (problem.district[l] === d ? -1 : j));
    if (brokenRules(problem, chosen).length > 0) continue;
    const mustNot = problem.mustNot.map((never, l) => (problem.district[l] === d ? 1 : never));
    const closed = mend({ ...problem, mustNot }, rule, chosen, packChosen(problem, rule, chosen));
    if (closed !== null && closed.worth > best.worth) best = closed;
  }
  return best;
}

/** Drops what is least worth its days until the rest fits, then fills up; null where what must stay does not fit. */
function mend(
  problem: SelectionProblem,
  rule: PackedRule,
  chosen: Chosen,
  days: PackedDays,
): Candidate | null {
  const kept = fits(excessOf(rule, days)) ? { chosen, days } : dropToFit(problem, rule, chosen, days);
  if (!fits(excessOf(rule, kept.days))) return null;
  const filled = fillUp(problem, rule, kept.chosen, kept.days);
  return { ...filled, worth: sumChosen(problem, filled.chosen).worth };
}

/** What the packed days of a choice say about the next: days over the least days where the crew was, their mean elsewhere. */
export function correctionOf(
  problem: SelectionProblem,
  rule: PackedRule,
  chosen: Chosen,
  { work, mobilised }: PackedDays,
  allowance: readonly number[],
): Correction {
  const ratio = rule.crews.map((crew, c) => {
    const least = new Float64Array(problem.districts);
    for (const [l, j] of chosen.entries())
      if (j >= 0)
        least[problem.district[l]!]! += visitShare(rule, c, rule.whole[c]![j]!, rule.handsOn[c]![j]!).part;
    for (const { lateral, whole, handsOn } of rule.done)
      least[problem.district[lateral]!]! += visitShare(rule, c, whole[c]!, handsOn[c]!).part;
    const took = work.map((own) => own.find((each) => each.crew === crew)?.crewDays ?? 0);
    const all = least.reduce((sum, each) => sum + each, 0);
    const mean = all > 0 ? took.reduce((sum, each) => sum + each, 0) / all : 1;
    return least.map((days, d) => Math.max(1, days > 0 ? took[d]! / days : mean));
  });
  return {
    ratio,
    days: rule.crewDays.map((has, crew) => Math.max(0, has - mobilised[crew]! - allowance[crew]!)),
  };
}

/** The season by minutes alone with all dropped that may be: it may fit after all; otherwise the crew-days that it still lacks. */
function nearest(
  problem: SelectionProblem,
  rule: PackedRule,
  solver: LinearSolver,
  stops: SelectionStops,
): Candidate | Extract<PackedSelection, { readonly ok: false }> {
  const loose = selectSeason(problem, solver, stops);
  if (!loose.ok) return loose;
  const least = dropToFit(problem, rule, loose.chosen, packChosen(problem, rule, loose.chosen));
  const more = excessOf(rule, least.days);
  return fits(more)
    ? { ...least, worth: sumChosen(problem, least.chosen).worth }
    : { ok: false, why: "does not fit as packed", more };
}

const fits = (excess: readonly number[]): boolean => excess.every((over) => over === 0);

const gapOf = (worth: number, bound: number): number =>
  bound === worth ? 0 : (bound - worth) / Math.abs(bound);

const packingOf = (
  { packed, mobilised }: PackedDays,
  unpacked: Packing["unpacked"],
  rounds: number,
): Packing => ({ packed, mobilised, unpacked, rounds });
