import { type BestBySet, bestBySet, priceOfComing, setsOf } from "./coming-sets.ts";
import { type Limits, MONEY_ROW } from "./limits.ts";
import { GrowingModel, type LinearSolver } from "./linear-solver.ts";
import { type Chosen, lateralsOf, type SelectionProblem } from "./selection-problem.ts";

/** What is chosen when every rule is paid for at its price instead of being kept, and the bound that gives. */
export interface PricedChoice {
  /** No choice that keeps the rules is worth more. */
  readonly bound: number;
  /** The best offer of each lateral if its district is open, or −1. */
  readonly picks: Chosen;
  /** Gain of each lateral's pick over its price, 0 for none. */
  readonly gains: Float64Array;
  /** 1 for districts worth opening at these prices, or open in any case. */
  readonly open: Uint8Array;
  /** Kinds of crew that come to each district if it is open, as bits. */
  readonly coming: Uint8Array;
  /** Gain of each district, its opening not paid, if just these kinds of crew may come: district after district, set after set. */
  readonly bySet: Float64Array;
}

/** Districts that cost nothing to open, or hold a lateral that must be done. */
export function alwaysOpen(problem: SelectionProblem): Uint8Array {
  const always = Uint8Array.from(problem.mobilization, (cents) => (cents === 0 ? 1 : 0));
  for (let l = 0; l < lateralsOf(problem); l++) if (problem.must[l] === 1) always[problem.district[l]!] = 1;
  return always;
}

/** Worth of an offer less the price of all it takes. */
export function gainOf(problem: SelectionProblem, limits: Limits, prices: Float64Array, j: number): number {
  let gain = problem.worth[j]!;
  for (let at = limits.starts[j]!; at < limits.starts[j + 1]!; at++)
    gain -= prices[limits.rows[at]!]! * limits.values[at]!;
  return gain;
}

/**
 * The relaxation at given prices of the rules (Lagrangian): laterals and districts come apart and each is settled by itself, over the
 * sets S of kinds of crew that may come to it.
 *
 *   L(p) = Σ p·limit + Σ_d max(0, max_S (Σ_l max(0, max_{j brings S at most} (worth_j − p·a_j)) − Σ_{c in S} p·coming_c) − p_money·mobilisation_d)
 *
 * Source: A. M. Geoffrion, Lagrangean relaxation for integer programming, Mathematical Programming Study 2, 1974: L(p) bounds every
 * choice from above for any prices of the right sign, however they were found.
 *
 * @param prices worth a unit of each row; above 0 charges its upper limit, below 0 its lower one
 */
export function chooseAt(
  problem: SelectionProblem,
  limits: Limits,
  usable: Uint8Array,
  always: Uint8Array,
  prices: Float64Array,
): PricedChoice {
  const n = lateralsOf(problem);
  const sets = setsOf(problem);
  const ofOffer = new Float64Array(problem.worth.length);
  for (let j = 0; j < ofOffer.length; j++)
    if (usable[j] === 1) ofOffer[j] = gainOf(problem, limits, prices, j);
  const best: BestBySet = { gains: new Float64Array(sets), offers: new Int32Array(sets) };
  const settle = (l: number) => bestBySet(problem, limits.brings, usable, (j) => ofOffer[j]!, l, best);
  const bySet = new Float64Array(problem.districts * sets);
  for (let l = 0; l < n; l++) {
    settle(l);
    const from = problem.district[l]! * sets;
    for (let set = 0; set < sets; set++) bySet[from + set]! += best.gains[set]!;
  }
  const coming = new Uint8Array(problem.districts);
  for (let d = 0; d < problem.districts; d++) {
    for (let set = 0; set < sets; set++)
      bySet[d * sets + set]! -= priceOfComing(problem, limits, prices, d, set);
    for (let set = 1; set < sets; set++)
      if (bySet[d * sets + set]! > bySet[d * sets + coming[d]!]!) coming[d] = set;
  }
  const picks = new Int32Array(n);
  const gains = new Float64Array(n);
  for (let l = 0; l < n; l++) {
    settle(l);
    picks[l] = best.offers[coming[problem.district[l]!]!]!;
    gains[l] = best.gains[coming[problem.district[l]!]!]!;
  }
  let bound = 0;
  for (const [row, price] of prices.entries())
    if (price !== 0) bound += price * (price > 0 ? limits.upper[row]! : limits.lower[row]!);
  const open = new Uint8Array(problem.districts);
  for (let d = 0; d < problem.districts; d++) {
    const value = bySet[d * sets + coming[d]!]! - prices[MONEY_ROW]! * problem.mobilization[d]!;
    if (always[d] === 1 || value > 0) {
      open[d] = 1;
      bound += value;
    }
  }
  return { bound, picks, gains, open, coming, bySet };
}

/** Districts are priced in at most so many blocks: more blocks learn faster, and cost more in the small program. */
const MOST_BLOCKS = 24;
const MOST_ROUNDS = 150;
/** The bound is as good as the relaxation's optimum to this part of it. */
const CLOSE_ENOUGH = 2e-5;
/** Cost of breaking a rule by its largest entry, as multiples of the largest worth: tried in turn until no rule is broken. */
const PENALTIES = [1e2, 1e4, 1e6];

/**
 * Prices of the rules at which the relaxation is tightest, found by column generation: a small linear program mixes whole choices of
 * the blocks, its duals price the rules, the prices give each block a better choice. The bound then equals that of the linear
 * relaxation with every lateral tied to the opening of its district.
 *
 * Source: G. B. Dantzig, P. Wolfe, Decomposition principle for linear programs, Operations Research 8, 1960; prices smoothed as by
 * P. Wentges, International Transactions in Operational Research 4, 1997. Holds for any number of laterals: a round reads each offer once.
 */
export function priceRules(
  problem: SelectionProblem,
  limits: Limits,
  usable: Uint8Array,
  solver: LinearSolver,
  stopAsked: () => boolean = () => false,
): { readonly prices: Float64Array; readonly at: PricedChoice } {
  const always = alwaysOpen(problem);
  const price = (prices: Float64Array) => chooseAt(problem, limits, usable, always, prices);
  const worthScale = problem.worth.reduce((most, worth) => Math.max(most, worth), 0) || 1;
  const blocks = Math.min(MOST_BLOCKS, problem.districts);
  const plans: BlockPlan[] = [];
  let prices = new Float64Array(limits.rules.length);
  let at = price(prices);
  let best = { prices, at };
  plans.push(...plansOf(problem, limits, at, blocks));
  for (const penalty of PENALTIES) {
    for (let round = 0; round < MOST_ROUNDS && !stopAsked(); round++) {
      const master = solveMaster(plans, limits, blocks, worthScale, penalty, solver);
      if (master === null) return best;
      if (best.at.bound - master.value <= CLOSE_ENOUGH * Math.abs(best.at.bound)) {
        if (master.broken < 1e-6) return best;
        break;
      }
      // Halfway to the best prices so far, every other round: plain duals swing from one end to the other.
      const smooth = round % 2 === 0 ? 0.5 : 0;
      prices = master.prices.map((each, row) => smooth * best.prices[row]! + (1 - smooth) * each);
      at = price(prices);
      if (at.bound < best.at.bound) best = { prices, at };
      plans.push(...plansOf(problem, limits, at, blocks));
    }
  }
  return best;
}

/** What one block does at some prices: its worth, and what it takes of each rule. */
interface BlockPlan {
  readonly block: number;
  readonly worth: number;
  readonly takes: Float64Array;
}

function plansOf(
  problem: SelectionProblem,
  limits: Limits,
  { picks, open, coming }: PricedChoice,
  blocks: number,
): BlockPlan[] {
  const plans = Array.from({ length: blocks }, (_, block) => ({
    block,
    worth: 0,
    takes: new Float64Array(limits.rules.length),
  }));
  for (let l = 0; l < picks.length; l++) {
    const j = picks[l]!;
    const d = problem.district[l]!;
    if (j < 0 || open[d] === 0) continue;
    const plan = plans[d % blocks]!;
    plan.worth += problem.worth[j]!;
    for (let at = limits.starts[j]!; at < limits.starts[j + 1]!; at++)
      plan.takes[limits.rows[at]!]! += limits.values[at]!;
  }
  for (let d = 0; d < problem.districts; d++) {
    if (open[d] === 0) continue;
    const { takes } = plans[d % blocks]!;
    takes[MONEY_ROW]! += problem.mobilization[d]!;
    for (const [kind, arrival] of (problem.arrivals ?? []).entries()) {
      if (((coming[d]! >> kind) & 1) === 0 || arrival.isThere[d] === 1) continue;
      for (const [crew, each] of arrival.takes.entries())
        if (limits.crewRows[crew]! >= 0) takes[limits.crewRows[crew]!]! += each;
    }
  }
  return plans;
}

function solveMaster(
  plans: readonly BlockPlan[],
  limits: Limits,
  blocks: number,
  worthScale: number,
  penalty: number,
  solver: LinearSolver,
) {
  const model = new GrowingModel();
  const rows = limits.rules.length;
  for (let row = 0; row < rows; row++)
    model.addRow(limits.lower[row]! / limits.scale[row]!, limits.upper[row]! / limits.scale[row]!);
  for (let block = 0; block < blocks; block++) model.addRow(1, 1);
  for (let row = 0; row < rows; row++) {
    for (const sign of [1, -1]) {
      model.addColumn(penalty, 0, Number.POSITIVE_INFINITY, false);
      model.addEntry(row, sign);
    }
  }
  for (const { block, worth, takes } of plans) {
    model.addColumn(-worth / worthScale, 0, Number.POSITIVE_INFINITY, false);
    for (let row = 0; row < rows; row++) model.addEntry(row, takes[row]! / limits.scale[row]!);
    model.addEntry(rows + block, 1);
  }
  const { values, duals, objective } = solver(model.finish(), { gap: 0, nodes: 0 });
  if (values === null) return null;
  let broken = 0;
  for (let slack = 0; slack < 2 * rows; slack++) broken += values[slack]!;
  const prices = new Float64Array(rows);
  for (let row = 0; row < rows; row++) {
    // A dual of a minimum says what a unit more of the limit costs; a price says what it is worth.
    const each = (-duals[row]! * worthScale) / limits.scale[row]!;
    if (each > 0 && limits.upper[row]! < Infinity) prices[row] = each;
    if (each < 0 && limits.lower[row]! > Number.NEGATIVE_INFINITY) prices[row] = each;
  }
  return { prices, broken, value: -objective * worthScale };
}
