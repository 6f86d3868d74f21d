import { isoDate } from "../quantity/calendar.ts";
import { showCrewDays } from "../quantity/crew-days.ts";
import type { Measure } from "../quantity/measure.ts";
import { type NumberStyle, showHundredths, showNumber, showQuantity } from "../quantity/show-quantity.ts";
import { type Minutes, minutes } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { cautionsFor } from "../reference/cautions.ts";
import { describeSource, type Source } from "../reference/source.ts";
import { type BidLine, bidLineKey } from "./bid-lines.ts";
import { houseCover } from "./cover.ts";
import { explainAlong, type PipeStrip, stripOf } from "./explain-along.ts";
import { explainFailure } from "./explain-failure.ts";
import { explainLiners } from "./explain-liner.ts";
import { explainAfter, explainPolicy, explainVerdicts } from "./explain-offers.ts";
import { explainOwnership } from "./explain-ownership.ts";
import { explainPlaced } from "./explain-placed.ts";
import { explainRatings } from "./explain-ratings.ts";
import { explainEffluent, explainWalls } from "./explain-walls.ts";
import { type ExplainedLine, line } from "./explained-line.ts";
import type { Given, Inspection, Lateral } from "./lateral.ts";
import { describeNotice } from "./notice.ts";
import type { Offer, PlannedLateral } from "./plan-lateral.ts";
import { describeReason, type Reason } from "./reason.ts";
import type { Stated } from "./stated.ts";

/** One stage of the plan, explained. */
export interface ExplainedStage {
  readonly stage: string;
  readonly lines: readonly ExplainedLine[];
  /** Drawn under the lines, as wide as there is room. */
  readonly strip?: PipeStrip;
}

/** Why the plan says what it says of one lateral: every stage, in order, in words, with sources. */
export function explainLateral(planned: PlannedLateral, basis: Basis): readonly ExplainedStage[] {
  const style: NumberStyle = basis.program;
  return [
    { stage: "Choice", lines: explainChoice(planned, basis, style) },
    { stage: "What the city gives", lines: explainGiven(planned, style) },
    { stage: "Surveys and condition", lines: explainCondition(planned, style) },
    ...explainedRatings(planned, style),
    { stage: "Risk", lines: explainRisk(planned, basis, style) },
    { stage: "Failure and its cost", lines: explainFailure(planned, basis, style) },
    { stage: "Treatments", lines: explainVerdicts(planned, basis, style) },
    { stage: "After the work", lines: explainAfter(planned.chosen, basis, style) },
    ...explainedAlong(planned, basis, style),
    { stage: "Effluent", lines: explainEffluent(planned, basis, style) },
    ...explainWalls(planned, basis, style),
    ...explainLiners(planned.chosen, basis, style),
    ...explainPlaced(planned.chosen, basis, style),
    { stage: "Crew time", lines: explainCrewTime(planned.chosen, basis, style) },
    { stage: "Bid lines and cost", lines: explainCost(planned.lateral, planned.chosen, basis, style) },
    { stage: "Ownership and permission", lines: explainOwnership(planned, style) },
    { stage: "Cautions", lines: explainCautions(planned) },
  ];
}

const reasonLines = (reasons: readonly Reason[], style: NumberStyle): ExplainedLine[] =>
  reasons.map((reason) => line("because", describeReason(reason, style)));

function explainChoice(planned: PlannedLateral, basis: Basis, style: NumberStyle): ExplainedLine[] {
  const { choice, chosen } = planned;
  const cost = chosen.cost.total;
  return [
    line("treatment", choice.treatment, choice.by === "decision" ? "decided" : null),
    ...reasonLines(choice.reasons, style),
    line("cost", cost === null ? "not priced" : showQuantity(cost, "money", style)),
    ...explainPolicy(planned, basis, style),
  ];
}

function explainGiven({ lateral }: PlannedLateral, style: NumberStyle): ExplainedLine[] {
  const quantity = (label: string, given: Given<number>, measure: Measure) =>
    given === null
      ? line(label, "not given")
      : line(label, showQuantity(given.value, measure, style), given.origin, decidedNote(given));
  const word = (label: string, given: Given<string>) =>
    given === null ? line(label, "not given") : line(label, given.value, given.origin, decidedNote(given));
  return [
    line("district", lateral.district === "" ? "not given" : lateral.district),
    ...(lateral.location === "" ? [] : [line("location", lateral.location)]),
    quantity("host diameter", lateral.hostDiameter, "diameter"),
    quantity("host length", lateral.hostLength, "length"),
    word("host material", lateral.hostMaterial),
    quantity("installed", lateral.installYear, "year"),
    quantity("cover at house", lateral.coverAtHouse, "length"),
    quantity("cover at main", lateral.coverAtMain, "length"),
    quantity("water table below surface", lateral.waterTableDepth, "length"),
    word("surface", lateral.surface),
    quantity("main diameter", lateral.mainDiameter, "diameter"),
    lateral.cleanout === null
      ? line("cleanout", "not given")
      : line(
          "cleanout",
          lateral.cleanout.value ? "yes" : "no",
          lateral.cleanout.origin,
          decidedNote(lateral.cleanout),
        ),
    word("cross-bore", lateral.crossBore),
    word("building", lateral.building),
    quantity("backups in five years", lateral.backups, "count"),
    quantity("bends", lateral.bends, "count"),
    quantity("sharpest bend", lateral.sharpestBend, "degrees"),
    quantity("change of size", lateral.sizeChange, "percent"),
    quantity("branches between its ends", lateral.branches, "count"),
    quantity("slope", lateral.slope, "percent"),
    quantity("fixture units", lateral.fixtureUnits, "count"),
    word("effluent", lateral.effluent),
    quantity("effluent temperature", lateral.effluentTemperature, "temperature"),
    word("lining of the main", lateral.mainLining),
    word("access", lateral.access),
  ];
}

const decidedNote = ({ origin, because }: Stated<unknown>): string | null =>
  origin === "decided" && because !== null ? `decided: ${because}` : because;

function explainCondition({ lateral, condition }: PlannedLateral, style: NumberStyle): ExplainedLine[] {
  const grade = (label: string, value: Stated<number> | null) =>
    value === null
      ? line(label, "not graded")
      : line(label, String(value.value), value.origin, decidedNote(value));
  return [
    line("survey", condition.state),
    ...lateral.inspections.map((survey) =>
      surveyLine(survey, survey === condition.leading || survey === condition.joinedWith, style),
    ),
    grade("structural grade", condition.structural),
    grade("operation and maintenance grade", condition.om),
    grade("connection grade", condition.connection),
    ...(condition.ageYears === null
      ? []
      : [line("age of the leading survey", `${condition.ageYears.toFixed(1)} years`)]),
    ...reasonLines(condition.reasons, style),
    ...condition.reinspect.map((reason) => line("re-inspect", describeReason(reason, style))),
  ];
}

/** Nothing where no place along the pipe is known. */
function explainedAlong(planned: PlannedLateral, basis: Basis, style: NumberStyle): ExplainedStage[] {
  const strip = stripOf(planned, style);
  if (strip === null) return [];
  return [{ stage: "Along the pipe", lines: explainAlong(planned, basis, style), strip }];
}

/** Nothing where no survey states a rating or has observations. */
function explainedRatings({ condition }: PlannedLateral, style: NumberStyle): ExplainedStage[] {
  const lines = explainRatings(condition, style);
  return lines.length === 0 ? [] : [{ stage: "Ratings and observations", lines }];
}

function surveyLine(survey: Inspection, leads: boolean, style: NumberStyle): ExplainedLine {
  const grades = [
    `structural ${survey.structuralGrade ?? "–"}`,
    `O&M ${survey.omGrade ?? "–"}`,
    `connection ${survey.connectionGrade ?? "–"}`,
    ...(survey.structuralQuick === "" ? [] : [`quick ${survey.structuralQuick}`]),
    ...(survey.surveyedLength === null
      ? []
      : [`${showQuantity(survey.surveyedLength, "length", style)} seen`]),
    ...(survey.direction === null ? [] : [survey.direction]),
    ...(survey.stoppedBecause === "" ? [] : [`stopped: ${survey.stoppedBecause}`]),
  ];
  return line(`survey of ${isoDate(survey.on)}`, grades.join(", "), "measured", leads ? "leads" : null);
}

function explainRisk({ risk }: PlannedLateral, basis: Basis, style: NumberStyle): ExplainedLine[] {
  const { likelihood, uninspected, consequence } = basis.risk;
  const source = risk.likelihood?.origin === "assumed" ? uninspected.source : likelihood.source;
  const { recipe } = basis;
  const points = (label: string, value: Stated<number> | null, formula: string | null, from: Source) =>
    line(
      label,
      value === null ? "missing" : showNumber(value.value, "points", style),
      value?.origin ?? null,
      formula === null ? describeSource(from) : "by the program's recipe",
    );
  return [
    points("likelihood", risk.likelihood, recipe.likelihood, source),
    points("consequence", risk.consequence, recipe.consequence, consequence.source),
    line(
      recipe.score === null ? "risk = likelihood × consequence" : "risk, by the program's recipe",
      risk.score === null ? "missing: ranks last" : showNumber(risk.score, "points", style),
      null,
      "relative: it orders, it is not a probability. Equal scores stand by structural grade, then O&M grade, then id, whatever is lost by waiting",
    ),
    ...reasonLines(risk.reasons, style),
  ];
}

function explainCrewTime({ crewTime }: Offer, basis: Basis, style: NumberStyle): ExplainedLine[] {
  if (crewTime.steps.length === 0) return [line("crew", "none")];
  return [
    ...crewTime.steps.map((step) =>
      line(
        step.step,
        showQuantity(step.minutes, "duration", style),
        "assumed",
        `${step.crew} crew at the ${step.position}, ${step.people} ${step.people === 1 ? "person" : "people"}, from minute ${step.start}${step.critical ? ", on the critical path" : ""}`,
      ),
    ),
    ...crewTime.visits.map((visit) =>
      line(
        `${visit.crew} visit`,
        `${showQuantity(visit.whole, "duration", style)}, set-up to closed access`,
        "assumed",
        `critical path; the crew is needed for ${visit.handsOn} min of it`,
      ),
    ),
    line(
      "total, visits one after another",
      `${showQuantity(crewTime.total, "duration", style)} = ${showCrewDays(crewTime.total, basis.steps.shiftMinutes)} crew-days`,
      "assumed",
      describeSource(basis.steps.source),
    ),
    ...(crewTime.outage === 0 ? [] : [outageLine(crewTime.outage, basis, style)]),
  ];
}

function outageLine(outage: Minutes, { steps }: Basis, style: NumberStyle): ExplainedLine {
  const most = showQuantity(minutes(steps.longestOutageMinutes), "duration", style);
  return line(
    "occupants without water",
    `${showQuantity(outage, "duration", style)}${outage > steps.longestOutageMinutes ? `: over the limit of ${most}` : ""}`,
    "assumed",
    `at most ${most}, notice ${describeNotice(steps)} before: ${describeSource(steps.outageSource)}`,
  );
}

function explainCost(
  lateral: Lateral,
  { cost, life }: Offer,
  basis: Basis,
  style: NumberStyle,
): ExplainedLine[] {
  const cover = houseCover(lateral, basis.assumptions);
  const depth =
    cover.origin === "assumed"
      ? `by ${showQuantity(cover.value, "length", style)} of cover (${cover.because}) and the diameter`
      : null;
  const because = ({ item }: BidLine): string | null => (item === "new cleanout" ? depth : null);
  const lines = cost.lines.map((priced) =>
    line(
      bidLineKey(priced),
      priced.extension === null
        ? `${showHundredths(priced.hundredths)} at no price`
        : `${showHundredths(priced.hundredths)} × ${showNumber(priced.unitPrice ?? Number.NaN, "money", style)} = ${showQuantity(priced.extension, "money", style)}`,
      because(priced) === null ? null : "assumed",
      because(priced),
    ),
  );
  const total =
    cost.total === null ? "not priced: an item has no price" : showQuantity(cost.total, "money", style);
  const { horizonYears, discountRate, source, yearsSource } = basis.life;
  const worth =
    life.presentWorth === null
      ? []
      : [
          line(
            "design life",
            life.years === null ? "none of its own: done once" : `${life.years} years`,
            "assumed" as const,
            describeSource(yearsSource),
          ),
          line(
            "present worth",
            showQuantity(life.presentWorth, "money", style),
            "assumed" as const,
            `renewed over ${horizonYears} years at ${showQuantity(discountRate, "percent", style)}, less the life left; without the risk of failure. ${describeSource(source)}`,
          ),
        ];
  return [...lines, line("total", total, null, basis.priceSource), ...worth];
}

const explainCautions = ({ choice, lateral }: PlannedLateral): ExplainedLine[] =>
  cautionsFor(new Set([choice.treatment]), Number(lateral.crossBore?.value === "found")).map((caution) =>
    line(caution.key, caution.text, null, describeSource(caution.source)),
  );
