import type { CrewKind, SeasonReason } from "../columns/plan-columns.ts";
import type { PlannedProgram } from "./planned-program.ts";
import { bringsOf, comingTo } from "./selection/arrivals.ts";
import { priceOfComing } from "./selection/coming-sets.ts";
import { mostOf, usualFillings } from "./selection/fillings.ts";
import { type Limits, limitsOf, MONEY_ROW } from "./selection/limits.ts";
import type { LinearSolver } from "./selection/linear-solver.ts";
import { FINE, ratiosOf, relaxPacked } from "./selection/packed-relaxation.ts";
import { excessOf, onTrial, type PackedDays, type PackedRule, packChosen } from "./selection/packed-rule.ts";
import { gainOf, priceRules } from "./selection/prices.ts";
import type { SeasonProblem, SeasonRules } from "./selection/season-problem.ts";
import {
  type Chosen,
  lateralsOf,
  openedBy,
  type SelectionProblem,
  sumChosen,
} from "./selection/selection-problem.ts";
import { judgeOffers, offerFates } from "./selection/usable-offers.ts";
import { ownersOf, packedCase } from "./selection/visit-shares.ts";
import { heldReasons } from "./tracking.ts";
import { whyNoOffer } from "./unlooked-offers.ts";

/** What one more unit of each is worth to the season: worth for a cent, and for a crew-day of each limited kind. */
export interface MarginalPrices {
  readonly money: number;
  readonly crewDays: Readonly<Partial<Record<CrewKind, number>>>;
}

export interface ExplainedSeason {
  /** By lateral; null for one whose reason is not in the problem: it is held, or no offer of it counts. */
  readonly reasons: readonly (SeasonReason | null)[];
  readonly prices: MarginalPrices;
}

/** Laterals worth their price that are packed to see whether they fit after all; more of them are taken for what binds. */
const PACKED_ON_TRIAL = 400;

/**
 * Why each lateral is in a season or out of it. Reasons come from the season's own program: the prices of its limits at its optimum, with
 * crew-days as this season's visits were packed (duals of the relaxation, see priceRules and ratiosOf).
 *
 *   gain of an offer = worth − p_money·cost − Σ p_crew·time − Σ p_district
 *
 * Out, in this order: the lateral it waits for is out; no offer gains at these prices (the dearest of them says of what); its district is
 * not opened; a limit has no room for it; or it would still fit, which the search did not find.
 */
export function explainSeason(
  problem: SelectionProblem,
  rule: PackedRule,
  chosen: Chosen,
  solver: LinearSolver,
): ExplainedSeason {
  const days = packChosen(problem, rule, chosen);
  const given = packedCase(problem, rule);
  const ratio = ratiosOf(given, [], { chosen, days });
  const priced = relaxPacked(given, [], { ratio, allowance: rule.crews.map(() => 0) });
  const limits = limitsOf(priced);
  const fates = judgeOffers(relaxPacked(given));
  const usable = fates.map((fate) => (offerFates[fate] === "usable" ? 1 : 0));
  const { prices } = priceRules(priced, limits, usable, solver);
  const season: Explained = {
    problem,
    rule,
    chosen,
    days,
    limits,
    prices,
    limited: rule.crews.filter((_, c) => rule.crewDays[c]! < Infinity),
    scale: problem.worth.reduce((most, worth) => Math.max(most, worth), 0) * 1e-7,
    opened: openedBy(problem, chosen),
    taken: takenBy(problem, chosen),
    waits: waiting(problem, chosen),
    trials: { left: PACKED_ON_TRIAL },
    chargesOf: chargesAt(priced, limits, prices, chosen),
  };
  // Done, and not only begun: then all its crews have come, and none has to be brought there first.
  for (const { lateral } of rule.done)
    if (problem.mustNot[lateral] === 1) season.opened[problem.district[lateral]!] = 1;
  const reasons = Array.from({ length: lateralsOf(problem) }, (_, l) => {
    const j = chosen[l]!;
    if (j >= 0) return whyIn(season, l, j);
    if (problem.mustNot[l] === 1 || problem.firstOffer[l] === problem.firstOffer[l + 1]) return null;
    return whyOut(season, l, fates);
  });
  return { reasons, prices: marginalPrices(season) };
}

/** A charge of an offer at the prices: what of, and how much worth it takes; below 0 it gives. */
interface Charge {
  readonly of: "money" | "crew" | "district" | "needs";
  readonly worth: number;
}

interface Explained {
  readonly problem: SelectionProblem;
  readonly rule: PackedRule;
  readonly chosen: Chosen;
  readonly days: PackedDays;
  readonly limits: Limits;
  readonly prices: Float64Array;
  readonly limited: readonly CrewKind[];
  /** Worth that is nothing beside the largest. */
  readonly scale: number;
  readonly opened: Uint8Array;
  /** Cents in all, and laterals and cents of works by district. */
  readonly taken: { readonly money: number; readonly laterals: Float64Array; readonly works: Float64Array };
  /** 1 for laterals that need one that is out. */
  readonly waits: Uint8Array;
  readonly trials: { left: number };
  readonly chargesOf: (j: number) => { readonly gain: number; readonly charges: readonly Charge[] };
}

function takenBy(problem: SelectionProblem, chosen: Chosen): Explained["taken"] {
  const laterals = new Float64Array(problem.districts);
  const costs = new Float64Array(problem.districts);
  for (const [l, j] of chosen.entries()) {
    if (j < 0) continue;
    laterals[problem.district[l]!]!++;
    costs[problem.district[l]!]! += problem.cost[j]!;
  }
  const { works, mobilization } = sumChosen(problem, chosen);
  return { money: works + mobilization, laterals, works: costs };
}

function waiting({ needs }: SelectionProblem, chosen: Chosen): Uint8Array {
  const waits = new Uint8Array(chosen.length);
  for (const [lateral, needed] of needs) if (chosen[needed]! < 0) waits[lateral] = 1;
  return waits;
}

const kinds = {
  money: "money",
  crew: "crew",
  "district laterals": "district",
  "district money": "district",
  needs: "needs",
} as const satisfies Record<Limits["rules"][number]["kind"], Charge["of"]>;

/** By offer: what it gains at the prices and what it is charged for; in a district that is open, also that a kind of crew has to come. */
function chargesAt(
  problem: SelectionProblem,
  limits: Limits,
  prices: Float64Array,
  chosen: Chosen,
): Explained["chargesOf"] {
  const arrivals = problem.arrivals ?? [];
  const brings = bringsOf(arrivals, problem.worth.length);
  const coming = comingTo(arrivals, chosen, problem.district, problem.districts);
  const opened = openedBy(problem, chosen);
  const owner = ownersOf(problem);
  return (j) => {
    const sums = new Map<Charge["of"], number>();
    for (let at = limits.starts[j]!; at < limits.starts[j + 1]!; at++) {
      const row = limits.rows[at]!;
      const of = kinds[limits.rules[row]!.kind];
      sums.set(of, (sums.get(of) ?? 0) + prices[row]! * limits.values[at]!);
    }
    const d = problem.district[owner[j]!]!;
    const anew = opened[d] === 1 ? brings[j]! & ~coming[d]! : 0;
    const ofComing = priceOfComing(problem, limits, prices, d, anew);
    if (ofComing > 0) sums.set("crew", (sums.get("crew") ?? 0) + ofComing);
    return {
      gain: gainOf(problem, limits, prices, j) - ofComing,
      charges: Array.from(sums, ([of, worth]): Charge => ({ of, worth })),
    };
  };
}

function whyIn(season: Explained, l: number, j: number): SeasonReason {
  const { problem, scale, chargesOf } = season;
  if (problem.must[l] === 1) return "must be done";
  if (problem.worth[j]! <= scale) return whyForNothing(season, l, j);
  const { gain, charges } = chargesOf(j);
  if (gain < -scale) return "fills what was left";
  // What a rule gives for it beside its own worth: without that it might not be in.
  const given = charges.filter(({ worth }) => worth < 0).sort((a, b) => a.worth - b.worth);
  const alone = gain + given.reduce((sum, { worth }) => sum + worth, 0);
  if (given[0] === undefined || alone > scale) return "worth what it takes";
  return given[0].of === "needs" ? "another waits for it" : "district's least";
}

/** What gains nothing is never worth what it takes, even where a price of 0 says that it takes nothing. */
function whyForNothing({ problem, chosen, taken }: Explained, l: number, j: number): SeasonReason {
  if (problem.needs.some(([lateral, needed]) => needed === l && chosen[lateral]! >= 0))
    return "another waits for it";
  const d = problem.district[l]!;
  const isOneOfLeast =
    taken.laterals[d]! - 1 < problem.least.laterals[d]! ||
    taken.works[d]! - problem.cost[j]! < problem.least.money[d]!;
  return isOneOfLeast ? "district's least" : "fills what was left";
}

function whyOut(season: Explained, l: number, fates: Uint8Array): SeasonReason {
  const { problem, scale, opened, chargesOf, rule } = season;
  const offers: number[] = [];
  for (let j = problem.firstOffer[l]!; j < problem.firstOffer[l + 1]!; j++) offers.push(j);
  const gaining = offers.filter((j) => problem.worth[j]! > 0);
  if (gaining.length === 0) return "gains nothing";
  const fitting = gaining.filter((j) => offerFates[fates[j]!] !== "fits no season");
  if (fitting.length === 0) return "alone over money or crew-days";
  if (season.waits[l] === 1) return "waits for another lateral";

  const judged = fitting.map((j) => ({ j, ...chargesOf(j) })).sort((a, b) => b.gain - a.gain);
  const worthIt = judged.filter(({ gain }) => gain >= -scale);
  if (worthIt.length === 0) return dearest(judged[0]!.charges);
  const d = problem.district[l]!;
  if (opened[d] === 0 && (problem.mobilization[d]! > 0 || rule.mobilisationDays > 0))
    return "district not opened";
  const rooms = worthIt.map(({ j }) => roomFor(season, l, j));
  return rooms.find((room) => room === "would still fit") ?? rooms[0]!;
}

/** The limit whose price takes most of the worth. */
function dearest(charges: readonly Charge[]): SeasonReason {
  const [most] = [...charges].sort((a, b) => b.worth - a.worth);
  switch (most?.of) {
    case "crew":
      return "not worth its crew-days";
    case "district":
      return "district has its most";
    case "needs":
      return "waits for another lateral";
    default:
      return "not worth its cost at this budget";
  }
}

/** What has no room for an offer that is worth its price: money, the district's limits, or the crew-days as packed. */
function roomFor(season: Explained, l: number, j: number): SeasonReason {
  const { problem, rule, chosen, days, taken, trials } = season;
  const d = problem.district[l]!;
  const cost = problem.cost[j]!;
  const opening = season.opened[d] === 1 ? 0 : problem.mobilization[d]!;
  if (taken.money + cost + opening > problem.money) return "money is gone";
  if (taken.laterals[d]! + 1 > problem.most.laterals[d]! || taken.works[d]! + cost > problem.most.money[d]!)
    return "district has its most";
  const wider = chosen.slice();
  wider[l] = j;
  const used = rule.crews.map((_, c) => days.packed[c]! + days.mobilized[c]!);
  const isFull = rule.crews.some((_, c) => rule.whole[c]![j]! > 0 && used[c]! >= rule.crewDays[c]!);
  if (trials.left-- <= 0) return isFull ? "crew-days are gone" : "would still fit";
  const known = days.work.map((own, at) => (at === d ? null : own));
  const packed = packChosen(problem, onTrial(rule), wider, known);
  return excessOf(rule, packed).some((over) => over > 0) ? "crew-days are gone" : "would still fit";
}

/** A crew-day gives room in each row that its kind of crew has in the relaxation: one for each usual filling. */
function marginalPrices({ limits, prices, limited, rule }: Explained): MarginalPrices {
  const rowsEach = usualFillings.length;
  const crewDays: Partial<Record<CrewKind, number>> = {};
  for (const [row, each] of limits.rules.entries()) {
    if (each.kind !== "crew") continue;
    const crew = limited[Math.floor(each.crew / rowsEach)]!;
    const filling = usualFillings[each.crew % rowsEach]!;
    const aDay = mostOf(filling) * (filling.kind === "parts" ? rule.shift * FINE : 1);
    crewDays[crew] = (crewDays[crew] ?? 0) + prices[row]! * aDay;
  }
  return { money: prices[MONEY_ROW]!, crewDays };
}

/**
 * The reasons with those that the problem does not know: what is held, what the rules forbid, and laterals without an offer that counts.
 *
 * @returns by lateral
 */
export function seasonReasonsOf(
  program: PlannedProgram,
  season: SeasonProblem,
  rules: Pick<SeasonRules, "mustNot">,
  { reasons }: ExplainedSeason,
): readonly SeasonReason[] {
  const held = new Map(season.held.map(({ lateral, standing }) => [lateral, standing]));
  const forbidden = new Set(rules.mustNot);
  const missing = whyNoOffer(program);
  return reasons.map((reason, l) => {
    const standing = held.get(l);
    if (standing !== undefined) return heldReasons[standing];
    if (reason !== null) return reason;
    if (forbidden.has(season.ids[l]!)) return "must not be done";
    // Who waits for a refused one is made to wait by holdFixed.
    if (season.problem.mustNot[l] === 1) return "waits for another lateral";
    return missing[l]!;
  });
}
