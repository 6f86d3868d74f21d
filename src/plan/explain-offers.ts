import type { Band } from "../engineering/band.ts";
import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import type { Basis } from "../reference/basis.ts";
import { describeSource } from "../reference/source.ts";
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
          `keeps out ${ends(after.infiltrationRemoved, (flow) => showQuantity(flow, "flow", style))} of clear water`,
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
            inBand(removed, (flow) => showQuantity(flow, "flow", style)),
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

/** By what the plan chooses among the treatments allowed, and what comes next; and which is the cheapest in the long run where the order decides. */
export function explainPolicy(
  { choice: { own, runnerUp }, offers, verdicts }: PlannedLateral,
  { life: { choose, horizonYears } }: Basis,
  style: NumberStyle,
): ExplainedLine[] {
  const inOrder = choose === "order";
  const policy = line(
    "chosen by",
    inOrder
      ? "the program's order of treatments: the first that is allowed"
      : "the least present worth of work, renewals and failures",
    null,
    inOrder
      ? 'not by cost. criteria.design_life.choose: "present worth" in program.json takes what costs least in the long run'
      : null,
  );
  if (runnerUp === null) return [policy, line("runner-up", "none: nothing else is allowed")];
  const beside = (more: number) =>
    more === 0
      ? "costs as much"
      : `would cost ${showQuantity(Math.abs(more), "money", style)} ${more < 0 ? "less" : "more"}`;
  const inLongRun = `over ${horizonYears} years, failures counted`;
  const next = line(
    "runner-up",
    runnerUp.treatment,
    null,
    runnerUp.more === null ? "its worth is not known" : `${beside(runnerUp.more)} ${inLongRun}`,
  );
  const worthOf = (treatment: string | null) =>
    longRunCost(offers.find((offer) => offer.treatment === treatment));
  const ownWorth = worthOf(own);
  const least = verdicts.offered
    .filter(({ againstRules }) => !againstRules)
    .flatMap(({ treatment }) => {
      const worth = worthOf(treatment);
      return worth === null ? [] : [{ treatment, worth }];
    })
    .toSorted((a, b) => a.worth - b.worth)[0];
  const isSaid =
    least === undefined || ownWorth === null || [own, runnerUp.treatment].includes(least.treatment);
  return !inOrder || isSaid
    ? [policy, next]
    : [
        policy,
        next,
        line(
          "least in the long run",
          least.treatment,
          null,
          `${beside(least.worth - ownWorth)} ${inLongRun}`,
        ),
      ];
}

/** Cents of work, renewals and failures over the horizon; null where one of them is not known. */
function longRunCost(offer: Offer | undefined): number | null {
  const worth = offer?.life.presentWorth ?? null;
  const remaining = offer?.after.money?.remaining.best ?? null;
  return worth === null || remaining === null ? null : worth + Math.round(remaining);
}
