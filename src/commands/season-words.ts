import type { SeasonReason } from "../columns/plan-columns.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import { showQuantity } from "../quantity/show-quantity.ts";
import type { BrokenRule } from "../season/selection/broken-rules.ts";
import type { Clash, ClashingRule } from "../season/selection/clash.ts";
import type { PackedRule } from "../season/selection/packed-rule.ts";
import { moneyOf, type SeasonProblem, type SeasonRules } from "../season/selection/season-problem.ts";
import type { PackedSelection } from "../season/selection/select-packed.ts";
import type { Totals } from "../season/totals.ts";
import type { Solved } from "../workers/season-work.ts";

/** What words of a season need to know. */
export interface SeasonView {
  readonly season: SeasonProblem;
  /** How its visits are packed into days, and the days there are. */
  readonly packed: PackedRule;
  readonly rules: SeasonRules;
  /** Why a lateral that has no offer to select has none. */
  readonly whyNoOffer: (lateral: number) => SeasonReason;
  readonly style: NumberStyle;
  readonly shiftMinutes: number;
  /** Cents of the bid's lump sums at the program's unit prices: the planning book's estimate has them, no season does. */
  readonly lumpSums: number;
}

/** What words of a worth need to know. */
export interface WorthView {
  readonly rules: Pick<SeasonRules, "objective">;
  readonly style: NumberStyle;
}

/** Worth in the unit of the objective; of a mix, in percent of the most there is. */
export function showWorth(worth: number, { rules, style }: WorthView): string {
  const { lossAvoided, infiltrationRemoved } = rules.objective;
  if (infiltrationRemoved === 0) return showQuantity(Math.round(worth), "money", style);
  if (lossAvoided === 0) return showQuantity(worth, "flow", style);
  return `${((worth / (lossAvoided + infiltrationRemoved)) * 100).toFixed(2)} % of the most`;
}

export const describeObjective = ({
  objective: { lossAvoided, infiltrationRemoved },
}: Pick<SeasonRules, "objective">): string =>
  infiltrationRemoved === 0
    ? "expected loss avoided (present worth)"
    : lossAvoided === 0
      ? "infiltration removed"
      : `a mix: loss avoided ${lossAvoided}, infiltration removed ${infiltrationRemoved}, each of the most that could be had`;

/**
 * Whose money the budget is held against: that of everybody who pays, the owners' parts too.
 *
 * @param spent cents of it that are gone already, into work that has begun
 */
export function payersSaid(
  { cityCost, ownerCost, undivided }: Pick<Totals, "cityCost" | "ownerCost" | "undivided">,
  style: NumberStyle,
  spent = 0,
): string {
  const money = (amount: number) => showQuantity(amount, "money", style);
  const gone = spent === 0 ? "" : `; ${money(spent)} of it is spent already`;
  const rest =
    undivided === 0 ? "" : `; ${money(undivided)} is not divided: owners, lengths or shares not stated`;
  return `The budget counts all works at their whole cost, what owners pay too: of these the city pays ${money(cityCost)}, owners ${money(ownerCost)}${rest}${gone}.`;
}

/** Inspections beside a season: to find out is worth nothing by what a season is selected for. Null where none is planned. */
export function inspectionsSaid(planned: number, taken: number): string | null {
  if (planned === 0) return null;
  return `Inspections are not chosen by worth, for by itself none avoids a loss or removes water: of ${planned} ranked lateral(s) that wait for one, ${taken} are in this season. Budget for them beside it.`;
}

/** What a season's sums leave out and its estimate has; null where no lump sum has a price. */
export function lumpSumsSaid(works: number, { lumpSums, rules, style }: SeasonView): string | null {
  if (lumpSums === 0) return null;
  const all = works + lumpSums;
  return `Not in these sums: the bid's lump sums, ${showQuantity(lumpSums, "money", style)} at the program's unit prices, which the planning book's estimate has in place of mobilization by district.${all > rules.budget ? ` Works and lump sums come to ${showQuantity(all, "money", style)}, more than the budget.` : ""}`;
}

export const showDays = (minutes: number, { shiftMinutes }: SeasonView): string =>
  (minutes / shiftMinutes).toFixed(1);

const districtName = (view: SeasonView, d: number): string => view.season.districts[d] || "(no district)";

/** Laterals that must be done and cannot, each with why. */
const withoutOffer = (laterals: readonly number[], view: SeasonView): readonly string[] =>
  laterals.filter((l) => hasNoOffer(l, view)).map((l) => `${view.season.ids[l]} (${whyNone(l, view)})`);

const hasNoOffer = (l: number, { season: { problem } }: SeasonView): boolean =>
  problem.mustNot[l] === 1 || problem.firstOffer[l] === problem.firstOffer[l + 1];

const whyNone = (l: number, { season: { problem }, whyNoOffer }: SeasonView): string =>
  problem.mustNot[l] === 1 ? "in must_not" : whyNoOffer(l);

export function describeRule(rule: ClashingRule, view: SeasonView): string {
  const { problem, ids, crews } = view.season;
  if (rule.side === "must do") {
    const without = withoutOffer(rule.laterals, view);
    const said = without.length === 0 ? "" : `, of which nothing can be selected for ${without.join(", ")}`;
    return `the ${rule.laterals.length} lateral(s) of must_do${said}`;
  }
  if (rule.side === "crew-days") return `${rule.days} crew-days of ${view.packed.crews[rule.crew]}`;
  const inner = rule.rule;
  switch (inner.kind) {
    case "money":
      return `the money, ${showQuantity(problem.money, "money", view.style)} after the reserve${view.season.spent > 0 ? " and what is spent" : ""}`;
    case "crew":
      return `${showDays(problem.crewMinutes[inner.crew]!, view)} crew-days of ${crews[inner.crew]}`;
    case "district laterals":
      return `${rule.side === "least" ? "at least" : "at most"} ${problem[rule.side].laterals[inner.district]} laterals in ${districtName(view, inner.district)}`;
    case "district money":
      return `${rule.side === "least" ? "at least" : "at most"} ${showQuantity(problem[rule.side].money[inner.district]!, "money", view.style)} of works in ${districtName(view, inner.district)}`;
    case "needs":
      return `${ids[inner.lateral]} only after ${ids[inner.needed]}`;
    default:
      return inner satisfies never;
  }
}

/** Why there is no season, and what would mend it. */
export function noSeasonText(
  { selection, clash }: Pick<Solved, "clash"> & { readonly selection: NoSeason },
  view: SeasonView,
): readonly string[] {
  if (clash !== null) return clashText(clash, view);
  if (selection.why !== "does not fit as packed") return [noSeason[selection.why]];
  const { packed, rules } = view;
  const more = selection.more.flatMap((days, c) =>
    days > 0 ? [{ crew: packed.crews[c]!, days, has: packed.crewDays[c]! }] : [],
  );
  const all = selection.more.reduce((sum, days) => sum + days, 0);
  const together = more.length > 1 ? ", all together" : "";
  return [
    "No season fits its crew-days, packed into whole days with mobilisation counted.",
    ...(selection.clash === null
      ? ["That none fits was not proven: none was found."]
      : [
          "That is proven: no packing keeps these together; without any one of them the others may be kept:",
          ...selection.clash.rules.map((rule) => `  ${describeRule(rule, view)}`),
        ]),
    selection.least === all
      ? `The fewest crew-days more that make room${together}; no fewer do:`
      : `At least ${selection.least} more crew-day(s) are needed in all; these ${all} are enough${together}:`,
    ...more.map(
      ({ crew, days, has }) =>
        `  ${days} more crew-day(s) of ${crew}, or the last day of the season later: there are ${has}${rules.crewDays[crew] === undefined || rules.crewDays[crew] > has ? " in the calendar" : ""}`,
    ),
    ...(selection.clash?.changes ?? [])
      .filter(({ rule }) => rule.side !== "crew-days")
      .map((change) => `Or, at the least: ${describeChange(change, view)}.`),
  ];
}

const noSeason = {
  "no choice keeps the rules":
    "No season keeps all the rules: a lateral of must_do has no offer that fits money and crews.",
  stopped: "Stopped before any season was found.",
  "node limit": "No season was found within the limit of the search.",
  failed: "The solver gave up on this season.",
} as const;
type NoSeason = Extract<PackedSelection, { readonly ok: false }>;

/** Which rules clash and what would mend it, line by line. */
export function clashText({ rules, changes }: Clash, view: SeasonView): readonly string[] {
  return [
    "No season keeps all the rules. These clash; without any one of them the others can be kept:",
    ...rules.map((rule) => `  ${describeRule(rule, view)}`),
    ...(changes.length === 0
      ? ["No one of them alone mends it: other rules clash as well."]
      : ["Any one of these mends it:", ...changes.map((change) => `  ${describeChange(change, view)}`)]),
  ];
}

function describeChange({ rule, by, letGo = [] }: Clash["changes"][number], view: SeasonView): string {
  if (rule.side === "must do") {
    const others = letGo.filter((l) => !hasNoOffer(l, view)).map((l) => view.season.ids[l]!);
    const which = [
      ...withoutOffer(letGo, view),
      ...(others.length === 0 ? [] : [`for example ${others.join(", ")}`]),
    ];
    return `take ${by} lateral(s) out of must_do: ${which.join("; ")}`;
  }
  const what = describeRule(rule, view);
  if (rule.side === "crew-days") return `at least ${by} more than the ${what}`;
  switch (rule.rule.kind) {
    case "money":
      return moreMoney(by, what, view);
    case "crew":
      return `${(Math.ceil((by / view.shiftMinutes) * 100) / 100).toFixed(2)} more to the ${what}`;
    case "district laterals":
      return `${by} ${rule.side === "least" ? "fewer" : "more"} than ${what}`;
    case "district money":
      return `${showQuantity(by, "money", view.style)} ${rule.side === "least" ? "less" : "more"} than ${what}`;
    case "needs":
      return `give up ${what}`;
    default:
      return rule.rule satisfies never;
  }
}

/** What the money lacks: where more is spent than there was, that is lacking as well. */
function moreMoney(by: number, money: string, view: SeasonView): string {
  const more = by + Math.max(0, view.season.spent - view.season.moneyBefore);
  return `${showQuantity(more, "money", view.style)} more to ${money}${budgetFor(more, view)}`;
}

/**
 * The figure to write as the budget, of which the reserve is kept back, so that there is so much more. Not said where a share of the
 * money is asked for, which grows with it.
 */
function budgetFor(more: number, { season: { moneyBefore }, rules }: SeasonView): string {
  if (rules.fairShare > 0 || rules.reserve >= 1) return "";
  let budget = Math.floor((moneyBefore + more) / (1 - rules.reserve)) - 2;
  while (moneyOf({ ...rules, budget }) < moneyBefore + more) budget++;
  return `: write "budget": ${(budget / 100).toFixed(2)}${rules.reserve > 0 ? ", the reserve included" : ""}`;
}

/** A rule the ranked cut does not keep, in words. */
export function describeBroken({ rule, found, limit }: BrokenRule, view: SeasonView): string {
  switch (rule.kind) {
    case "must":
      return `leaves out ${view.season.ids[rule.lateral]}, which must be done`;
    case "must not":
    case "not its offer":
      return `takes ${view.season.ids[rule.lateral]}, which it may not`;
    case "district laterals":
      return `${found} laterals in ${districtName(view, rule.district)}, not ${limit}`;
    case "district money":
    case "money":
      return `${showQuantity(found, "money", view.style)}${rule.kind === "money" ? "" : ` of works in ${districtName(view, rule.district)}`}, not ${showQuantity(limit, "money", view.style)}`;
    case "crew":
      return `${showDays(found, view)} crew-days of ${view.season.crews[rule.crew]}, not ${showDays(limit, view)}`;
    case "needs":
      return `${view.season.ids[rule.lateral]} without ${view.season.ids[rule.needed]}`;
    default:
      return rule satisfies never;
  }
}
