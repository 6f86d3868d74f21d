import type { Basis } from "../reference/basis.ts";
import { measureBidLines } from "./bid-lines.ts";
import { chooseTreatment } from "./choice.ts";
import { readCondition } from "./condition.ts";
import { priceLines } from "./cost.ts";
import { timeCrew } from "./crew-time.ts";
import type { Lateral } from "./lateral.ts";
import { cutLiner } from "./liner.ts";
import { scoreRisk } from "./risk.ts";
import { judgeTreatments, type Verdict } from "./verdicts.ts";
import { designHostWall } from "./wall.ts";
import { wetOutLiner } from "./wet-out.ts";

/** One lateral, from what the city knows to bid lines. Read this first: each line is a stage, a file of that name. */
export function planLateral(lateral: Lateral, basis: Basis) {
  const condition = readCondition(lateral, basis.program.asOf, basis.treatments.thresholds.surveyTooOldYears);
  const risk = scoreRisk(lateral, condition, basis.risk, basis.assumptions, basis.program.asOf);
  const wall = designHostWall(lateral, condition, basis);
  const verdicts = judgeTreatments(lateral, condition, wall, basis.treatments, basis.system);
  const offers = verdicts
    .filter((verdict) => verdict.eligible)
    .map((verdict) => makeOffer(lateral, verdict, wall, basis));
  const choice = chooseTreatment(lateral, verdicts, basis.treatments.order);
  const chosen = offers.find((offer) => offer.treatment === choice.treatment);
  if (chosen === undefined)
    throw new RangeError(`planLateral: ${lateral.id} has no offer for ${choice.treatment}`);
  return { lateral, condition, risk, wall, verdicts, offers, choice, chosen };
}

/** One eligible treatment, fully sized, measured, timed and priced. */
function makeOffer(
  lateral: Lateral,
  { treatment }: Verdict,
  wall: ReturnType<typeof designHostWall>,
  basis: Basis,
) {
  const liner = cutLiner(treatment, lateral, wall.kind === "designed" ? wall : null, basis);
  const wetOut = wetOutLiner(liner, lateral.hostDiameter?.value ?? null, basis);
  const bidLines = measureBidLines(treatment, lateral, liner, basis);
  const crewTime = timeCrew(treatment, lateral, basis.steps);
  const cost = priceLines(bidLines, basis.prices);
  return { treatment, liner, wetOut, bidLines, crewTime, cost };
}

export type PlannedLateral = ReturnType<typeof planLateral>;
export type Offer = PlannedLateral["chosen"];
