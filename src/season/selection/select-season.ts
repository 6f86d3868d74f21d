import { type BrokenRule, brokenRules, sameRule } from "./broken-rules.ts";
import { chosenOf, coreModel, lossesOf } from "./core-model.ts";
import { type Limits, limitsOf, type Rule } from "./limits.ts";
import type { LinearAnswer, LinearSolver, SolverStops } from "./linear-solver.ts";
import { alwaysOpen, chooseAt, priceRules } from "./prices.ts";
import { type Chosen, type SelectionProblem, sumChosen } from "./selection-problem.ts";
import { judgeOffers } from "./usable-offers.ts";

export type Selection =
  | {
      readonly ok: true;
      readonly chosen: Chosen;
      readonly worth: number;
      /** No choice that keeps the rules is worth more. */
      readonly bound: number;
      /** (bound − worth) ÷ bound: what better choices could add at most. */
      readonly gap: number;
      readonly ended: "proven" | "node limit" | "stopped";
      /** Alternatives left open in the last core, and all there were. */
      readonly core: number;
      readonly alternatives: number;
    }
  | { readonly ok: false; readonly why: "no choice keeps the rules" | "stopped" | "node limit" | "failed" };

export interface SelectionStops extends Pick<SolverStops, "stopAsked"> {
  /** Proven part of the bound at which the search ends. */
  readonly gap: number;
  /** Of the branch and bound, each time it is started. */
  readonly nodes: number;
  /** Cores to be solved at the most, where not all that it takes: what is found then has a wider gap. */
  readonly cores?: number;
  /** Best worth so far and the bound on it; worth is −Infinity until a choice is found. */
  readonly progress?: (worth: number, bound: number) => void;
}

export const usualStops = { gap: 0.001, nodes: 20_000 } as const;

/** Up to so many alternatives a case is solved whole at once. */
const WHOLE_UP_TO = 300;
/** Sizes of the core, in turn; after the last the whole program. */
const CORE_SIZES = [300, 1500, 6000, 24_000];
/** Part of the gap that a core may use up, so that the whole stays within it in spite of the last digits. */
const CORE_PART = 0.95;
/** A core is solved at most so often: as usual, closely, and closely with its limits drawn in. */
const SOLVED_TIMES = 4;

/**
 * The season's best choice, proven within a gap: offers nobody needs go, the rules get prices and a bound (priceRules), what the
 * prices leave open is solved by branch and bound in growing cores, and the bound proves the gap. Stops on gap and nodes, never on
 * the clock, so the same program gives the same season.
 */
export function selectSeason(
  problem: SelectionProblem,
  solver: LinearSolver,
  stops: SelectionStops = usualStops,
): Selection {
  const limits = limitsOf(problem);
  const usable = judgeOffers(problem).map((fate) => (fate === 0 ? 1 : 0));
  const stopAsked = stops.stopAsked ?? (() => false);
  if (mustWithoutOffer(problem, usable)) return { ok: false, why: "no choice keeps the rules" };

  const count = usable.reduce((sum, one) => sum + one, 0);
  const isSmall = count <= WHOLE_UP_TO;
  const free = new Float64Array(limits.rules.length);
  const { prices, at } = isSmall
    ? { prices: free, at: chooseAt(problem, limits, usable, alwaysOpen(problem), free) }
    : priceRules(problem, limits, usable, solver, stopAsked);
  let bound = at.bound;
  const losses = lossesOf(problem, limits, usable, prices, at);
  const alternatives = losses.sorted.length;
  const sizes = [...(isSmall ? [] : CORE_SIZES.filter((size) => size < alternatives)), alternatives].slice(
    0,
    stops.cores,
  );
  let best: { readonly chosen: Chosen; readonly worth: number; readonly core: number } | null = null;
  let why: CoreAnswer["ended"] = "stopped";

  for (const size of sizes) {
    if (stopAsked()) break;
    const answer = solveCore(problem, limits, losses, { size, enough: bound * (1 - stops.gap) }, solver, {
      ...stops,
      progress: (worth, coreBound) =>
        stops.progress?.(
          Math.max(worth, best?.worth ?? Number.NEGATIVE_INFINITY),
          Math.min(bound, Math.max(coreBound, bound - departing(losses, size))),
        ),
    });
    why = answer.ended;
    if (answer.chosen !== null) {
      const { worth } = sumChosen(problem, answer.chosen);
      if (best === null || worth > best.worth) best = { chosen: answer.chosen, worth, core: size };
    }
    bound = Math.min(bound, Math.max(answer.bound, bound - departing(losses, size)));
    if (best !== null) {
      bound = Math.max(bound, best.worth);
      stops.progress?.(best.worth, bound);
      if (gapOf(best.worth, bound) <= stops.gap) break;
      // A core that could not be searched to its end will not get easier by growing.
      if (answer.ended === "node limit" || answer.ended === "stopped") break;
    }
  }
  if (best === null) return { ok: false, why: why === "solved" ? "failed" : why };
  const gap = gapOf(best.worth, bound);
  const ended = gap <= stops.gap ? "proven" : stopAsked() ? "stopped" : "node limit";
  return { ok: true, ...best, bound, gap, ended, alternatives };
}

const departing = ({ sorted }: ReturnType<typeof lossesOf>, size: number): number =>
  size >= sorted.length ? Number.POSITIVE_INFINITY : sorted[size]!;

/** What of the bound better choices could add at most. */
export const gapOf = (worth: number, bound: number): number =>
  bound === worth ? 0 : (bound - worth) / Math.abs(bound);

function mustWithoutOffer(problem: SelectionProblem, usable: Uint8Array): boolean {
  for (let l = 0; l < problem.must.length; l++) {
    if (problem.must[l] === 0) continue;
    if (!usable.subarray(problem.firstOffer[l]!, problem.firstOffer[l + 1]!).includes(1)) return true;
  }
  return false;
}

interface CoreAnswer {
  readonly chosen: Chosen | null;
  readonly bound: number;
  readonly ended: Exclude<LinearAnswer["status"], "no solution"> | "no choice keeps the rules";
}

/**
 * The best of a core. A solver keeps limits to a millionth; where that is a cent too much it solves again, closely, and only where even
 * that breaks one is the limit drawn in. That there is no choice is known from undrawn limits alone: drawn in, they leave out seasons
 * that keep the rules.
 */
function solveCore(
  problem: SelectionProblem,
  limits: Limits,
  losses: ReturnType<typeof lossesOf>,
  { size, enough }: { readonly size: number; readonly enough: number },
  solver: LinearSolver,
  stops: SelectionStops,
): CoreAnswer {
  const keep = { lower: Float64Array.from(limits.lower), upper: Float64Array.from(limits.upper) };
  let bound = Number.POSITIVE_INFINITY;
  let ended: CoreAnswer["ended"] = "failed";
  for (let time = 0; time < SOLVED_TIMES; time++) {
    const core = coreModel(problem, limits, losses, size, keep);
    const { worthScale } = core;
    const answer = solver(core.model, {
      gap: stops.gap * CORE_PART,
      nodes: stops.nodes,
      closely: time > 0,
      target: -enough / worthScale,
      ...(stops.stopAsked === undefined ? {} : { stopAsked: stops.stopAsked }),
      progress: (best, least) => stops.progress?.(-best * worthScale, -least * worthScale),
    });
    const isDrawnIn = time > 1;
    // The bound of undrawn limits holds for all.
    if (!isDrawnIn)
      bound =
        answer.status === "no solution"
          ? Number.NEGATIVE_INFINITY
          : Math.min(bound, -answer.bound * worthScale);
    ended = answer.status === "no solution" ? "no choice keeps the rules" : answer.status;
    if (isDrawnIn && answer.status === "no solution") ended = "failed";
    if (answer.values === null) return { chosen: null, bound, ended };
    const chosen = chosenOf(problem, core, answer.values);
    const broken = brokenRules(problem, chosen);
    if (broken.length === 0) return { chosen, bound, ended };
    if (time > 0)
      for (const { rule, found, limit } of broken) drawIn(keep, limits.rules, rule, found - limit);
  }
  return { chosen: null, bound, ended };
}

function drawIn(
  keep: Pick<Limits, "lower" | "upper">,
  rules: readonly Rule[],
  broken: BrokenRule["rule"],
  by: number,
): void {
  const row = rules.findIndex((rule) => sameRule(rule, broken));
  if (row < 0) throw new RangeError(`drawIn: the solver broke ${JSON.stringify(broken)}, which is no limit`);
  if (by > 0) keep.upper[row]! -= by;
  else keep.lower[row]! -= by;
}
