import type { Band } from "../engineering/band.ts";
import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import { showDailyFlow } from "../quantity/summed-flow.ts";
import type { Basis } from "../reference/basis.ts";
import { describeSource } from "../reference/source.ts";
import { isComparable, totalWorth } from "./choice.ts";
import { inBand } from "./explain-failure.ts";
import { type ExplainedLine, line } from "./explained-line.ts";
import type { Offer, PlannedLateral } from "./plan-lateral.ts";
import { describeReason } from "./reason.ts";

/** Every treatment with its verdict, and of those allowed what they cost, leave to fail, and do first. */
export function explainVerdicts(
  { verdicts, offers }: PlannedLateral,
  basis: Pick<Basis, "uncertainty">,
  style: NumberStyle,
): ExplainedLine[] {
  const money = (cents: number) => showQuantity(Math.round(cents), "money", style);
  return verdicts.all.map(({ treatment, eligible, againstRules, reasons }) => {
    const offer = offers.find((candidate) => candidate.treatment === treatment);
    const cost = offer?.cost.total ?? null;
    const worth = offer?.life.presentWorth ?? null;
    const remaining = offer?.after.money?.remaining.best ?? null;
    const value = [
      againstRules ? "allowed by decision, against the rules" : eligible ? "allowed" : "not allowed",
      ...(cost === null ? [] : [money(cost)]),
      ...(worth === null || remaining === null
        ? []
        : [`over the horizon ${money(worth + remaining)}, ${money(remaining)} of it failures`]),
    ].join(", ");
    const why = reasons.map((reason) => describeReason(reason, style));
    const first = (offer?.works ?? []).flatMap(({ work, because }) =>
      because.map((reason) => `first ${work}: ${describeReason(reason, style)}`),
    );
    const sure = offer === undefined ? [] : howSure(offer, basis.uncertainty, style);
    return line(treatment, value, null, [...sure, ...why, ...first].join("; "));
  });
}

/** Time and life of an offer, and how far its cost and what it does may be off: the estimate's class and the tables' ranges. */
function howSure(
  { cost, crewTime, life, after }: Offer,
  { estimateClass, classAccuracy }: Basis["uncertainty"],
  style: NumberStyle,
): string[] {
  const money = (cents: number) => showQuantity(Math.round(cents), "money", style);
  const ends = (band: Band, shown: (value: number) => string) =>
    `${shown(band.least)} to ${shown(band.most)}`;
  const accuracy = classAccuracy.find((each) => each.class === estimateClass);
  const total = cost.total;
  return [
    ...(crewTime.total === 0 ? [] : [`crew ${showQuantity(crewTime.total, "duration", style)}`]),
    ...(life.years === null ? [] : [`life ${life.years} years`]),
    ...(total === null || total === 0 || accuracy === undefined
      ? []
      : [
          `cost ${money(total * (1 + accuracy.low))} to ${money(total * (1 + accuracy.high))} as a class ${estimateClass} estimate`,
        ]),
    ...(after.money === null ? [] : [`failures left ${ends(after.money.remaining, money)}`]),
    ...(after.infiltrationRemoved === null || after.infiltrationRemoved.most === 0
      ? []
      : [
          `keeps out ${ends(after.infiltrationRemoved, (flow) => showDailyFlow(flow, style))} of clear water`,
        ]),
  ];
}

/** What the chosen work leaves of the ways to fail, and the clear water it keeps out. */
export function explainAfter({ after, works }: Offer, basis: Basis, style: NumberStyle): ExplainedLine[] {
  const money = (cents: number) => showQuantity(Math.round(cents), "money", style);
  const sources = works.flatMap(({ work }) => {
    const effect = basis.effects.works[work];
    return effect === null ? [] : [describeSource(effect.source)];
  });
  const { shares, money: loss, infiltrationRemoved: removed } = after;
  const share = (of: Band) => inBand(of, (part) => showQuantity(part, "percent", style));
  return [
    line("chance of breaking, what remains", share(shares.structural), "assumed", sources.join("; ") || null),
    line("chance of blocking, what remains", share(shares.blockage), "assumed"),
    line(
      "infiltration, what remains",
      share(shares.infiltration),
      "assumed",
      "after what finds another way in",
    ),
    ...(removed === null
      ? []
      : [
          line(
            "infiltration removed, season of high groundwater",
            inBand(removed, (flow) => showDailyFlow(flow, style)),
            "assumed",
          ),
        ]),
    ...(loss === null
      ? []
      : [
          line(
            "failures still expected",
            inBand(loss.remaining, money),
            "assumed",
            `present worth over ${basis.life.horizonYears} years, each work renewed at the end of its life`,
          ),
          line(
            "failures spared by doing it once",
            inBand(loss.avoided, money),
            "assumed",
            "after its life the chances are again as they were",
          ),
        ]),
  ];
}

/**
 * By what the plan chooses among the treatments allowed, and what comes next to its own choice; and, where the order decides by itself, which would be
 * the cheapest in the long run. Of a lateral that a person decided it is what the plan would do.
 */
export function explainPolicy(
  { choice: { by, own, runnerUp }, offers, verdicts }: PlannedLateral,
  { life: { choose, horizonYears } }: Basis,
  style: NumberStyle,
): ExplainedLine[] {
  const offerOf = (treatment: string | null) => offers.find((offer) => offer.treatment === treatment) ?? null;
  const allowed = verdicts.offered
    .filter(({ againstRules }) => !againstRules)
    .map(({ treatment }) => ({ treatment, worth: totalWorth(offerOf(treatment)) }));
  const policy = line(
    by === "decision" ? "the plan would choose by" : "chosen by",
    choose === "order"
      ? "the program's order of treatments: the first that is allowed"
      : isComparable(allowed)
        ? "the least present worth of work, renewals and failures"
        : "the program's order: the present worth cannot be compared here",
    null,
    choose === "order"
      ? 'not by cost. criteria.design_life.choose: "present worth" in program.json takes what costs least in the long run'
      : null,
  );
  if (runnerUp === null) return [policy, line("runner-up", "none: nothing else is allowed")];
  const failures = offerOf(own)?.after.money == null ? "failures not counted" : "failures counted";
  const beside = (more: number) =>
    `${more === 0 ? "as much as" : `${showQuantity(Math.abs(more), "money", style)} ${more < 0 ? "less" : "more"} than`} ${own} over ${horizonYears} years, ${failures}`;
  const next = line(
    "runner-up",
    runnerUp.treatment,
    null,
    runnerUp.more === null ? "its worth is not known" : `would cost ${beside(runnerUp.more)}`,
  );
  const ownWorth = totalWorth(offerOf(own));
  let least: { readonly treatment: string; readonly worth: number } | null = null;
  for (const { treatment, worth } of allowed)
    if (worth !== null && (least === null || worth < least.worth)) least = { treatment, worth };
  if (choose !== "order" || least === null || ownWorth === null) return [policy, next];
  return least.treatment === own || least.treatment === runnerUp.treatment
    ? [policy, next]
    : [
        policy,
        next,
        line("least in the long run", least.treatment, null, `would cost ${beside(least.worth - ownWorth)}`),
      ];
}
