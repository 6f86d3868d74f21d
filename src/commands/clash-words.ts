import { showCount, showQuantity } from "../quantity/show-quantity.ts";
import type { Clash, ClashingRule } from "../season/selection/clash.ts";
import { moneyOf } from "../season/selection/season-problem.ts";
import type { PackedSelection } from "../season/selection/select-packed.ts";
import type { DistrictLimits } from "../season/selection/selection-problem.ts";
import { heldReasons } from "../season/tracking.ts";
import { heldBackSaid } from "../workbook/held-back.ts";
import type { Solved } from "../workers/season-work.ts";
import { districtAt, type SeasonView, showDays, showPackedDays } from "./season-words.ts";

/** Laterals that must be done and cannot, each with why. */
const withoutOffer = (laterals: readonly number[], view: SeasonView): readonly string[] =>
  laterals.filter((l) => hasNoOffer(l, view)).map((l) => `${view.season.ids[l]} (${whyNone(l, view)})`);

const hasNoOffer = (l: number, { season: { problem } }: SeasonView): boolean =>
  problem.mustNot[l] === 1 || problem.firstOffer[l] === problem.firstOffer[l + 1];

/** Of what must be done only what is held back is still so: what is done or refused has lost it. */
function whyNone(l: number, { season: { problem, ids }, rules, heldBack, whyNoOffer }: SeasonView): string {
  const id = ids[l]!;
  if (heldBack.includes(id)) return heldReasons["held back"];
  if (problem.mustNot[l] !== 1) return whyNoOffer(l);
  return rules.mustNot.includes(id)
    ? "in must_not"
    : "only_after one that is held back, refused or in must_not";
}

export function describeRule(rule: ClashingRule, view: SeasonView): string {
  const { problem, ids, crews } = view.season;
  if (rule.side === "must do") {
    const without = withoutOffer(rule.laterals, view);
    const said = without.length === 0 ? "" : `, of which nothing can be selected for ${without.join(", ")}`;
    return `the ${showCount(rule.laterals.length)} lateral(s) of must_do${said}`;
  }
  // As they were written: what is done is packed with the rest.
  if (rule.side === "crew-days")
    return `${showPackedDays(view.packed.crewDays[rule.crew]!)} crew-days of ${view.packed.crews[rule.crew]}`;
  const inner = rule.rule;
  switch (inner.kind) {
    case "money":
      return `the money, ${showQuantity(problem.money, "money", view.style)} after the reserve${view.season.spent > 0 ? " and what is spent" : ""}`;
    case "crew": {
      const taken = minutesTaken(inner.crew, view);
      return `${view.rules.crewDays[crews[inner.crew]!]} crew-days of ${crews[inner.crew]}${taken === 0 ? "" : ` (${showDays(taken, view)} done)`}`;
    }
    case "district laterals": {
      const { limit, taken, where } = districtLimit(rule.side, "laterals", inner.district, view);
      return `at ${rule.side} ${showCount(limit)} laterals in ${where}${taken === 0 ? "" : ` (${showCount(taken)} done)`}`;
    }
    case "district money": {
      const { limit, taken, where } = districtLimit(rule.side, "money", inner.district, view);
      const money = (cents: number) => showQuantity(cents, "money", view.style);
      const by = isFairShare(rule.side, inner.district, view)
        ? `, which is its part by fair_share ${view.rules.fairShare}`
        : "";
      return `at ${rule.side} ${money(limit)} of works in ${where}${taken === 0 ? "" : ` (${money(taken)} spent)`}${by}`;
    }
    case "needs":
      return `${ids[inner.lateral]} only after ${ids[inner.needed]}`;
    default:
      return inner satisfies never;
  }
}

/** Minutes of a kind of crew that visits have taken which are over. */
const minutesTaken = (crew: number, { season: { held, begun } }: SeasonView): number =>
  [...held.map(({ minutes }) => minutes[crew]!), ...begun.map(({ visited }) => visited[crew] ?? 0)].reduce(
    (sum, minutes) => sum + minutes,
    0,
  );

/** A district's limit as it was written, and what is gone of it. */
function districtLimit(side: "least" | "most", of: keyof DistrictLimits, d: number, view: SeasonView) {
  const { limits } = view.season;
  return { limit: limits[side][of][d]!, taken: limits.taken[of][d]!, where: districtAt(view, d) };
}

/** Whether it is the fair share that asks for so much, and not the district's own rule. */
const isFairShare = (side: "least" | "most", d: number, { season, rules }: SeasonView): boolean => {
  const written = rules.districts[season.districts[d]!]?.leastMoney;
  return side === "least" && season.limits.least.money[d]! > (written === undefined ? 0 : written);
};

/** Why there is no season, and what would mend it. */
export function noSeasonText(
  { selection, clash }: Pick<Solved, "clash"> & { readonly selection: NoSeason },
  view: SeasonView,
): readonly string[] {
  const toMakeSafe = heldBackSaid(view.heldBack.filter((id) => view.rules.mustDo.includes(id)));
  if (clash !== null) return [...clashText(clash, view), ...toMakeSafe];
  if (selection.why !== "does not fit as packed") return [noSeason[selection.why]];
  const { packed, rules } = view;
  const more = selection.more.flatMap((days, c) =>
    days > 0 ? [{ crew: packed.crews[c]!, days, has: packed.crewDays[c]! }] : [],
  );
  const all = selection.more.reduce((sum, days) => sum + days, 0);
  const together = more.length > 1 ? ", all together" : "";
  return [
    "No season fits its crew-days, packed into whole days with mobilization counted.",
    ...(selection.clash === null
      ? ["That none fits was not proven: none was found."]
      : [
          "That is proven: no packing keeps these together; without any one of them the others may be kept:",
          ...selection.clash.rules.map((rule) => `  ${describeRule(rule, view)}`),
        ]),
    selection.least === all
      ? `The fewest crew-days more that make room${together}; no fewer do:`
      : `At least ${showPackedDays(selection.least)} more crew-day(s) are needed in all; these ${showPackedDays(all)} are enough${together}:`,
    ...more.map(
      ({ crew, days, has }) =>
        `  ${showPackedDays(days)} more crew-day(s) of ${crew}, or the last day of the season later: there are ${showPackedDays(has)}${rules.crewDays[crew] === undefined || rules.crewDays[crew] > has ? " in the calendar" : ""}`,
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
    return `take ${showCount(by)} lateral(s) out of must_do: ${which.join("; ")}`;
  }
  const what = describeRule(rule, view);
  if (rule.side === "crew-days") return `at least ${showPackedDays(by)} more than the ${what}`;
  switch (rule.rule.kind) {
    case "money":
      return moreMoney(by, what, view);
    case "crew": {
      const { crew } = rule.rule;
      // More was taken than there was: nothing is left of it, and what is lacking is more than that.
      const written = Math.floor(view.rules.crewDays[view.season.crews[crew]!]! * view.shiftMinutes);
      const more = by + Math.max(0, minutesTaken(crew, view) - written);
      return `${(Math.ceil((more / view.shiftMinutes) * 100) / 100).toFixed(2)} more to the ${what}`;
    }
    case "district laterals":
      return `${showCount(by + overrun(rule.side, "laterals", rule.rule.district, view))} ${rule.side === "least" ? "fewer" : "more"} than ${what}`;
    case "district money": {
      const change = by + overrun(rule.side, "money", rule.rule.district, view);
      const fair = isFairShare(rule.side, rule.rule.district, view)
        ? fairShareFor(change, rule.rule.district, view)
        : "";
      return `${showQuantity(change, "money", view.style)} ${rule.side === "least" ? "less" : "more"} than ${what}${fair}`;
    }
    case "needs":
      return `give up ${what}`;
    default:
      return rule.rule satisfies never;
  }
}

/** By how much more is done or spent than a district's most: that is lacking as well. */
function overrun(side: "least" | "most", of: keyof DistrictLimits, d: number, view: SeasonView): number {
  const { limit, taken } = districtLimit(side, of, d, view);
  return side === "most" ? Math.max(0, taken - limit) : 0;
}

/** The part to write as the fair share, downwards in its fourth decimal, so that a district is asked for so much less. */
function fairShareFor(less: number, d: number, { season }: SeasonView): string {
  const all = season.gaining.reduce((sum, each) => sum + each, 0);
  const asked = season.limits.least.money[d]! - less;
  const STEPS = 10_000;
  const part = Math.floor(((asked * all) / (season.gaining[d]! * season.moneyBefore)) * STEPS) / STEPS;
  return `: write "fair_share": ${part}`;
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
