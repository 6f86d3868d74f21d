import type { SeasonReason } from "../columns/plan-columns.ts";
import { districtName } from "../quantity/district-name.ts";
import { showPercent } from "../quantity/percent.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import { grouped, showCount, showQuantity } from "../quantity/show-quantity.ts";
import { showDailyFlow } from "../quantity/summed-flow.ts";
import type { BudgetPays } from "../reference/season-days.ts";
import type { BrokenRule } from "../season/selection/broken-rules.ts";
import type { PackedRule } from "../season/selection/packed-rule.ts";
import type { SeasonProblem, SeasonRules } from "../season/selection/season-problem.ts";
import type { SeasonTotals } from "../season/selection/season-totals.ts";
import type { Totals } from "../season/totals.ts";
import type { WorkBeforeInspection } from "../season/unlooked-offers.ts";

/** What words of a season need to know. */
export interface SeasonView {
  readonly season: SeasonProblem;
  /** How its visits are packed into days, and the days there are. */
  readonly packed: PackedRule;
  readonly rules: SeasonRules;
  /** Ids of the laterals that nobody is sent to before a cross-bore is made safe. */
  readonly heldBack: readonly string[];
  /** Why a lateral that has no offer to select has none. */
  readonly whyNoOffer: (lateral: number) => SeasonReason;
  readonly style: NumberStyle;
  readonly shiftMinutes: number;
  readonly pays: BudgetPays;
  /** Cents of the bid's lump sums at the program's unit prices: the planning book's estimate has them, no season does. */
  readonly lumpSums: number;
  /** What they are for. */
  readonly lumpSumItems: readonly string[];
}

/** What a budget counts, as a heading says it. */
export const costWords: Readonly<Record<BudgetPays, string>> = {
  "whole cost": "cost",
  "city share": "city's share of cost",
};

/** The same said of one budget beside another that counts otherwise. */
export const countedWords: Readonly<Record<BudgetPays, string>> = {
  ...costWords,
  "whole cost": "whole cost",
};

/** What words of a worth need to know. */
export interface WorthView {
  readonly rules: Pick<SeasonRules, "objective">;
  readonly pays: BudgetPays;
  readonly style: NumberStyle;
}

/** Worth in the unit of the objective; of a mix, in percent of the most there is. */
export function showWorth(worth: number, { rules, style }: WorthView): string {
  const { lossAvoided, infiltrationRemoved } = rules.objective;
  if (infiltrationRemoved === 0) return showQuantity(Math.round(worth), "money", style);
  if (lossAvoided === 0) return showQuantity(worth, "flow", style);
  return `${showPercent(worth / (lossAvoided + infiltrationRemoved), 2)} of the most`;
}

/** The same of one lateral, whose flow in L/s or gpm would nearly always be 0.00. */
export const showOwnWorth = (worth: number, view: WorthView): string =>
  view.rules.objective.lossAvoided === 0 ? showDailyFlow(worth, view.style) : showWorth(worth, view);

/** By how much of its worth another season might be better. */
export const showGap = (gap: number): string => showPercent(gap, 3);

export const describeObjective = ({
  objective: { lossAvoided, infiltrationRemoved },
}: Pick<SeasonRules, "objective">): string =>
  infiltrationRemoved === 0
    ? "expected loss avoided (present worth)"
    : lossAvoided === 0
      ? "infiltration removed"
      : `a mix: loss avoided ${lossAvoided}, infiltration removed ${infiltrationRemoved}, each of the most that could be had`;

type Paid = Pick<Totals, "cityCost" | "ownerCost" | "undivided">;

/**
 * Whose money the budget is held against: that of everybody who pays, the owners' parts too, or the city's alone.
 *
 * @param undividedLaterals whose cost is in `undivided`
 * @param spent cents of it that are gone already, into work that has begun
 */
export function payersSaid(
  { cityCost, ownerCost, undivided }: Paid,
  { pays, undividedLaterals }: { readonly pays: BudgetPays; readonly undividedLaterals: number },
  style: NumberStyle,
  spent = 0,
): string {
  const money = (amount: number) => showQuantity(amount, "money", style);
  const gone = spent === 0 ? "" : `; ${money(spent)} of it is spent already`;
  if (pays === "city share") {
    const whole =
      undivided === 0
        ? ""
        : `, in it ${money(undivided)} for ${showCount(undividedLaterals)} lateral(s) at their whole cost, which is not divided: owners, lengths or shares not stated`;
    return `The budget counts the city's share of the cost of all works, ${money(cityCost + undivided)}${whole}${gone}. Owners pay ${money(ownerCost)} of these works directly.`;
  }
  const rest =
    undivided === 0 ? "" : `; ${money(undivided)} is not divided: owners, lengths or shares not stated`;
  return `The budget counts all works at their whole cost, what owners pay too: of these the city pays ${money(cityCost)}, owners ${money(ownerCost)}${rest}${gone}.`;
}

/** How much of what is selected costs more than the loss it avoids, beside all of it; null where nothing is selected. */
export function dearerSaid(
  { chosen, works: spent, dearer, chosenWithoutLoss }: SeasonTotals,
  { pays, style }: Pick<SeasonView, "pays" | "style">,
): string | null {
  if (chosen === 0) return null;
  const money = (amount: number) => showQuantity(amount, "money", style);
  const works = showCount(chosen);
  if (chosenWithoutLoss === chosen) return "What loss the works avoid is not known.";
  const cost = pays === "city share" ? "cost, at the city's share," : "cost";
  const unknown =
    chosenWithoutLoss === 0
      ? ""
      : ` The loss avoided by ${showCount(chosenWithoutLoss)} of the works is not known.`;
  if (dearer.laterals === 0)
    return `Works that ${cost} more than the loss they avoid (present worth): none of ${works}${unknown === "" ? "" : " that is known"}.${unknown}`;
  return `${showCount(dearer.laterals)} of the ${works} works ${cost} more than the loss they avoid (present worth): ${money(dearer.works)} of the ${money(spent)}, for ${money(dearer.lossAvoided)} of loss avoided.${unknown}`;
}

/** What the ranked cut is. */
export const rankedCutSaid =
  "Ranked cut: down the ranking, each lateral's planned treatment, passing over what no longer fits. What is planned to be inspected first it passes over too, unless it must be done: the season takes no inspection for its worth.";

/** Inspections beside a season: to find out is worth nothing by what a season is selected for. Null where none is planned. */
export function inspectionsSaid(planned: number, taken: number, other: WorkBeforeInspection): string | null {
  if (planned === 0) return null;
  const allowed =
    other.choosable === 0
      ? "No other work may be chosen for them."
      : `For ${showCount(other.choosable)} of them the rules of treatment allow other work all the same, which is chosen like any: ${showCount(other.chosen)} are in with it.`;
  return `Inspections are not chosen by worth, for by itself none avoids a loss or removes water: of ${planned} ranked lateral(s) that wait for one, ${taken} are in this season to be inspected. Budget for them beside it. ${allowed}`;
}

interface LumpSumView extends Pick<SeasonView, "lumpSums" | "lumpSumItems" | "pays" | "style"> {
  readonly rules: Pick<SeasonRules, "budget">;
  readonly season: Pick<SeasonProblem, "moneyBefore" | "spent"> & {
    readonly opening: Pick<SeasonProblem["opening"], "spent">;
  };
}

/**
 * Cents left of the budget less its reserve when works and lump sums are paid; below 0 where they take of the reserve or more. What is
 * spent on works is not in `works`; what opened districts is mobilization, whose place the lump sums take.
 */
export const leftWithLumpSums = (
  works: number,
  { lumpSums, season: { moneyBefore, spent, opening } }: Pick<LumpSumView, "lumpSums" | "season">,
): number => moneyBefore - (spent - opening.spent) - works - lumpSums;

/** What a season's sums leave out and its estimate has; null where no lump sum has a price. */
export function lumpSumsSaid(works: number, view: LumpSumView): string | null {
  const { lumpSums, lumpSumItems, rules, pays, season, style } = view;
  if (lumpSums === 0) return null;
  const money = (amount: number) => showQuantity(amount, "money", style);
  const all = works + lumpSums;
  const over = -leftWithLumpSums(works, view);
  const reserve = rules.budget - season.moneyBefore;
  const what = pays === "city share" ? "The city's share of works" : "Works";
  return `Not in works and mobilization: the bid's lump sums (${lumpSumItems.join(", ")}), ${money(lumpSums)} at the program's unit prices, which the planning book's estimate has in place of mobilization by district.${
    over <= 0
      ? ""
      : ` ${what} and lump sums come to ${money(all)}, ${over > reserve ? "more than the budget" : `which takes ${money(over)} of the ${money(reserve)} kept back`}.`
  }`;
}

/** Crew-days as they are packed: whole, unless their limit in program.json is not. */
export const showPackedDays = (days: number): string => grouped(days, Number.isInteger(days) ? 0 : 2);

export const showDays = (minutes: number, { shiftMinutes }: SeasonView): string =>
  grouped(minutes / shiftMinutes, 1);

/** The name of a district by its place in the season, as people read it. */
export const districtAt = (view: SeasonView, d: number): string =>
  districtName(view.season.districts[d] ?? "");

/** A rule the ranked cut does not keep, in words; a district's as it was written, what is done and spent counted in. */
export function describeBroken({ rule, found, limit }: BrokenRule, view: SeasonView): string {
  const { taken } = view.season.limits;
  const money = (cents: number): string => showQuantity(cents, "money", view.style);
  switch (rule.kind) {
    case "must":
      return `leaves out ${view.season.ids[rule.lateral]}, which must be done`;
    case "must not":
    case "not its offer":
      return `takes ${view.season.ids[rule.lateral]}, which it may not`;
    case "district laterals": {
      const done = taken.laterals[rule.district]!;
      return `${showCount(found + done)} laterals in ${districtAt(view, rule.district)}, not ${showCount(limit + done)}`;
    }
    case "district money": {
      const spent = taken.money[rule.district]!;
      return `${money(found + spent)} of works in ${districtAt(view, rule.district)}, not ${money(limit + spent)}`;
    }
    case "money":
      return `${money(found)}, not ${money(limit)}`;
    case "crew":
      return `${showDays(found, view)} crew-days of ${view.season.crews[rule.crew]}, not ${showDays(limit, view)}`;
    case "needs":
      return `${view.season.ids[rule.lateral]} without ${view.season.ids[rule.needed]}`;
    default:
      return rule satisfies never;
  }
}
