import { brokenRules } from "./broken-rules.ts";
import { swapForCheaper } from "./cheaper-swaps.ts";
import { type Clash, findClash, leastMoreDays } from "./clash.ts";
import { dropToFit, fillUp } from "./fit-packed.ts";
import type { LinearSolver } from "./linear-solver.ts";
import { type Cut, findCuts, ratiosOf, relaxPacked } from "./packed-relaxation.ts";
import { excessOf, type PackedDays, type PackedRule, packChosen } from "./packed-rule.ts";
import { gapOf, type Selection, type SelectionStops, selectSeason, usualStops } from "./select-season.ts";
import { type Chosen, openedBy, type SelectionProblem, sumChosen } from "./selection-problem.ts";
import { type PackedCase, type PackedChoice, packedCase } from "./visit-shares.ts";

type Proven = Extract<Selection, { readonly ok: true }>;

/** What packing the season into days came to. */
export interface Packing {
  /** Crew-days by kind of crew, as packed and as mobilized: at most what there is. */
  readonly packed: readonly number[];
  readonly mobilized: readonly number[];
  /** The best season with days counted at their least, unpacked: its worth, and by how many crew-days of each kind it does not fit. */
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
      /** Crew-days more, by kind of crew, with which all of them together a season was found. */
      readonly more: readonly number[];
      /** No season fits with fewer more than these, all kinds together; 0 where it is not proven that none fits. */
      readonly least: number;
      /** The rules that no packing keeps together; null where that is not proven. */
      readonly clash: Clash | null;
    };

/** Times the season is solved at the most, and for its bound: fewer where one takes long. */
const roundsFor = (offers: number) =>
  offers > 60_000
    ? { all: 3, bounding: 1 }
    : offers > 600
      ? { all: 6, bounding: 2 }
      : { all: 12, bounding: 8 };
/** A bound need not be nearer than this part of what is still between it and the best. */
const PART_OF_GAP = 0.25;
/** A round need not be nearer than this before the best is known: of few offers the later ones come nearer. */
const FIRST_GAP = 0.001;
const firstGap = (offers: number, gap: number): number => (offers > 600 ? gap : Math.max(gap, FIRST_GAP));
/** Judgements in a row that find nothing better, after which no other is made. */
const IN_VAIN = 2;
/** A round of judgement need not be nearer than this: its days are less exact. */
const ROUND_GAP = 0.0005;

/**
 * The season's best choice that its crews can work: packed into whole days as the calendar packs them, within the crew-days and dates.
 *
 * A round solves the relaxation of packed-relaxation.ts, whose bound holds for every season that fits, and packs its choice. Where that
 * took more days than it was counted for, a filling is looked for that proves it (findCuts), and the next round solves the relaxation
 * with it: the bound falls. Where none is found, the next round judges the days by the ratio of the last packing. Each choice is
 * also mended: what is least worth its days goes (dropToFit), what still fits comes in (fillUp); last a district is closed where
 * that gains (closeDistricts). The best that fits, its works swapped for cheaper ones of the same worth, is the answer, and the least bound says how far another could be better at most. A
 * heuristic with a proven bound: rounds are counted, not timed, so the same program gives the same season.
 */
export function selectPacked(
  problem: SelectionProblem,
  rule: PackedRule,
  solver: LinearSolver,
  stops: SelectionStops = usualStops,
): PackedSelection {
  const given = packedCase(problem, rule);
  const first = selectSeason(relaxPacked(given), solver, {
    ...stops,
    gap: firstGap(problem.worth.length, stops.gap),
  });
  if (!first.ok) {
    const near = first.why === "no choice keeps the rules" ? nearest(given, [], solver, stops) : first;
    // A season that the relaxation rules out has no bound to be proven by.
    return "ok" in near ? near : { ok: false, why: "failed" };
  }
  const search = searchRounds(given, solver, stops, first);
  const best = search.best ?? nearest(given, search.cuts, solver, stops);
  if ("ok" in best) return best;
  const { worth } = best;
  const { chosen, days } = swapForCheaper(given, best);
  const bound = Math.max(worth, search.bound);
  const gap = gapOf(worth, bound);
  return {
    ...first,
    chosen,
    worth,
    bound,
    gap,
    ended: gap <= stops.gap ? "proven" : first.ended === "proven" ? "packed" : first.ended,
    packing: packingOf(days, search.unpacked, search.rounds),
  };
}

interface Candidate extends PackedChoice {
  readonly worth: number;
}

interface Searched {
  readonly best: Candidate | null;
  /** No season that fits is worth more. */
  readonly bound: number;
  readonly unpacked: Packing["unpacked"];
  readonly rounds: number;
  readonly cuts: readonly Cut[];
}

function searchRounds(
  given: PackedCase,
  solver: LinearSolver,
  stops: SelectionStops,
  first: Proven,
): Searched {
  const { problem, rule } = given;
  const stopAsked = stops.stopAsked ?? (() => false);
  const most = roundsFor(problem.worth.length);
  const allowance = rule.crews.map(() => 0);
  let cuts: readonly Cut[] = [];
  let best: Candidate | null = null;
  let { bound } = first;
  let last: PackedChoice = packed(given, first.chosen);
  const unpacked = { worth: first.worth, excess: excessOf(rule, last.days) };
  let rounds = 1;
  let bounding = 1;
  let provenTo = firstGap(problem.worth.length, stops.gap);
  let ratio: readonly Float64Array[] | null = null;
  const seen = [first.chosen];
  let inVain = 0;
  for (let isBounding = true; ; ) {
    const mended = mend(given, last, bound * (1 - stops.gap));
    if (mended !== null && (best === null || mended.worth > best.worth)) {
      best = mended;
      inVain = 0;
    } else if (!isBounding && ++inVain === IN_VAIN) break;
    stops.progress?.(best?.worth ?? Number.NEGATIVE_INFINITY, bound);
    // The relaxation's own choice fits: nothing is better than what that round left unproven.
    const fitsItself = fits(excessOf(rule, last.days));
    const between = best === null ? Number.POSITIVE_INFINITY : gapOf(best.worth, bound);
    if (rounds >= most.all || stopAsked() || between <= stops.gap) break;
    if (isBounding && fitsItself && provenTo <= stops.gap) break;
    const found = findCuts(given, cuts, last);
    cuts = [...cuts, ...found];
    isBounding = (found.length > 0 || (isBounding && fitsItself)) && bounding < most.bounding;
    if (isBounding) provenTo = Math.max(stops.gap, Math.min(FIRST_GAP, between * PART_OF_GAP));
    ratio = halfway(ratio, ratiosOf(given, cuts, last));
    if (!isBounding && rounds > 1)
      for (const [crew, over] of excessOf(rule, last.days).entries()) allowance[crew]! += over;
    const correction = isBounding ? null : { ratio, allowance };
    const answer = selectSeason(relaxPacked(given, cuts, correction), solver, {
      gap: isBounding ? provenTo : Math.max(stops.gap, ROUND_GAP, Math.min(FIRST_GAP, between * PART_OF_GAP)),
      nodes: stops.nodes,
      // A judgement is not worth more than one core.
      ...(isBounding ? {} : { cores: 1 }),
      ...(stops.stopAsked === undefined ? {} : { stopAsked: stops.stopAsked }),
    });
    rounds++;
    if (!answer.ok) break;
    if (isBounding) {
      bound = Math.min(bound, answer.bound);
      bounding++;
    } else if (seen.some((chosen) => chosen.every((j, l) => j === answer.chosen[l]))) break;
    seen.push(answer.chosen);
    last = packed(given, answer.chosen);
  }
  if (best !== null && gapOf(best.worth, bound) > stops.gap) best = closeDistricts(given, best);
  return { best, bound, unpacked, rounds, cuts };
}

/** Halfway between two judgements: plain ones swing from one end to the other. */
const halfway = (
  was: readonly Float64Array[] | null,
  now: readonly Float64Array[],
): readonly Float64Array[] =>
  was === null ? now : now.map((each, crew) => each.map((ratio, d) => (ratio + was[crew]![d]!) / 2));

const packed = ({ problem, rule }: PackedCase, chosen: Chosen): PackedChoice => ({
  chosen,
  days: packChosen(problem, rule, chosen),
});

/** Districts that are tried closed, those worth least first. */
const CLOSED = 8;

/** A season without one of its districts, filled up with what its mobilisation leaves room for, where that is worth more. */
function closeDistricts(given: PackedCase, from: Candidate): Candidate {
  const { problem } = given;
  const worth = new Float64Array(problem.districts);
  for (const [l, j] of from.chosen.entries()) if (j >= 0) worth[problem.district[l]!]! += problem.worth[j]!;
  const opened = [...openedBy(problem, from.chosen).entries()]
    .flatMap(([d, isOpen]) => (isOpen === 1 ? [d] : []))
    .sort((a, b) => worth[a]! - worth[b]! || a - b);
  let best = from;
  for (const d of opened.slice(0, CLOSED)) {
    const chosen = best.chosen.map((j, l) => (problem.district[l] === d ? -1 : j));
    if (brokenRules(problem, chosen).length > 0) continue;
    const mustNot = problem.mustNot.map((never, l) => (problem.district[l] === d ? 1 : never));
    const known = best.days.work.map((own, other) => (other === d ? null : own));
    const days = packChosen(problem, given.rule, chosen, known);
    const closed = mend({ ...given, problem: { ...problem, mustNot } }, { chosen, days });
    if (closed !== null && closed.worth > best.worth) best = closed;
  }
  return best;
}

/** Drops what is least worth its days until the rest fits, then fills up; null where what must stay does not fit. */
function mend(given: PackedCase, from: PackedChoice, enough = Number.POSITIVE_INFINITY): Candidate | null {
  const { problem, rule } = given;
  const kept = fits(excessOf(rule, from.days)) ? from : dropToFit(given, from);
  if (!fits(excessOf(rule, kept.days))) return null;
  const filled = fillUp(given, kept, enough);
  return { ...filled, worth: sumChosen(problem, filled.chosen).worth };
}

/** Times the least days more are looked for. */
const NEAREST_ROUNDS = 8;

/**
 * Where no season was found: the fewest crew-days more with which one is, and how many are needed at the least. The days more are made
 * least in the relaxation, which proves the one number; its choice is packed, which gives the other; what the packing proves is added to
 * the relaxation, until both are the same or nothing is added. It may turn out that a season fits after all.
 */
function nearest(
  given: PackedCase,
  known: readonly Cut[],
  solver: LinearSolver,
  stops: SelectionStops,
): Candidate | Extract<PackedSelection, { readonly ok: false }> {
  const { problem, rule } = given;
  let cuts = known;
  let least = 0;
  // By minutes there may be one whose rest fits when some goes.
  const loose = selectSeason(problem, solver, stops);
  let choice = loose.ok ? dropToFit(given, packed(given, loose.chosen)) : null;
  let more = choice === null ? null : excessOf(rule, choice.days);
  for (let round = 0; round < NEAREST_ROUNDS && (more === null || sum(more) > least); round++) {
    const found = leastMoreDays(relaxPacked(given, cuts), solver);
    if (found === null) break;
    least = Math.max(least, found.by);
    const next = packed(given, found.chosen);
    const proven = findCuts(given, cuts, next);
    cuts = [...cuts, ...proven];
    const excess = excessOf(rule, next.days);
    if (more === null || sum(excess) < sum(more)) {
      more = excess;
      choice = next;
    }
    if (proven.length === 0) break;
  }
  // Not even with any number of days.
  if (choice === null || more === null) return loose.ok ? { ok: false, why: "failed" } : loose;
  const keepsAll = fits(more) && brokenRules(problem, choice.chosen).length === 0;
  const mended = keepsAll ? mend(given, choice) : null;
  const clash = mended === null ? findClash(relaxPacked(given, cuts), solver) : null;
  return mended ?? { ok: false, why: "does not fit as packed", more, least, clash };
}

const sum = (days: readonly number[]): number => days.reduce((all, each) => all + each, 0);

const fits = (excess: readonly number[]): boolean => excess.every((over) => over === 0);

const packingOf = (
  { packed, mobilized }: PackedDays,
  unpacked: Packing["unpacked"],
  rounds: number,
): Packing => ({ packed, mobilized, unpacked, rounds });
