import { type Basis, chosenFor } from "../reference/basis.ts";
import { judgeAfterWork } from "./after-work.ts";
import { measureBidLines } from "./bid-lines.ts";
import { chooseTreatment } from "./choice.ts";
import { type Condition, readCondition } from "./condition.ts";
import { priceLines, sumCosts } from "./cost.ts";
import { splitCost } from "./cost-split.ts";
import { timeCrew } from "./crew-time.ts";
import { planCure } from "./cure.ts";
import { type CureFits, fitCures } from "./cure-fit.ts";
import { locateSeen } from "./defects-along.ts";
import { readEffluent } from "./effluent.ts";
import { type Failure, judgeFailure } from "./failure.ts";
import { compareFlow } from "./flow.ts";
import { checkForces } from "./forces.ts";
import type { Lateral } from "./lateral.ts";
import { judgeLife } from "./life.ts";
import { cutLiner, type Liner, longestPiece, piecesIn, useOf } from "./liner.ts";
import { priceLining } from "./lining-prices.ts";
import { judgePermission } from "./permission.ts";
import type { PlanBasis } from "./plan-basis.ts";
import { scoreRisk } from "./risk.ts";
import { chooseSections, type Sections } from "./sections.ts";
import { orAssumed } from "./stated.ts";
import { judgeTreatments, type Verdict } from "./verdicts.ts";
import { designWalls, type Walls, wallsOf } from "./walls.ts";
import { insertionTime, wetOutLiner } from "./wet-out.ts";
import { listWorks } from "./works.ts";

/** One lateral, from what the city knows to bid lines. Read this first: each line is a stage, a file of that name. */
export function planLateral(lateral: Lateral, basis: PlanBasis) {
  const { surveyTooOldYears, joinSurveysWithinDays } = basis.treatments.thresholds;
  const condition = readCondition(lateral, basis.program.asOf, surveyTooOldYears, joinSurveysWithinDays);
  const risk = scoreRisk(lateral, condition, basis.risk, basis.assumptions, basis.program.asOf, basis.scores);
  const failure = judgeFailure(lateral, condition, basis);
  const effluent = readEffluent(lateral, basis);
  const walls = designWalls(lateral, condition, effluent, basis);
  const cureFits = fitCures(lateral, walls, basis);
  const along = locateSeen(lateral, condition);
  const canPlace = along !== null && walls.section.kind === "designed";
  const prices = canPlace ? priceLining(lateral, walls, cureFits, basis) : null;
  const sections = chooseSections(along, condition, basis.treatments, prices);
  const verdicts = judgeTreatments(
    lateral,
    condition,
    effluent,
    walls,
    cureFits,
    sections,
    basis,
    basis.ruleBook,
  );
  const offers = verdicts
    .filter((verdict) => verdict.eligible)
    .map((verdict) => makeOffer(lateral, condition, failure, verdict, walls, cureFits, sections, basis));
  const choice = chooseTreatment(lateral, verdicts, offers, basis.treatments.order, basis.life.choose);
  const chosen = offers.find((offer) => offer.treatment === choice.treatment);
  if (chosen === undefined)
    throw new RangeError(`planLateral: ${lateral.id} has no offer for ${choice.treatment}`);
  return {
    lateral,
    condition,
    risk,
    failure,
    effluent,
    walls,
    cureFits,
    along,
    sections,
    verdicts,
    offers,
    choice,
    chosen,
  };
}

/** One eligible treatment, fully sized, measured, timed and priced: put together from its works, the preparatory ones first. */
function makeOffer(
  lateral: Lateral,
  condition: Condition,
  failure: Failure,
  verdict: Verdict,
  walls: Walls,
  cureFits: CureFits,
  sections: Sections,
  basis: Basis,
) {
  const { treatment } = verdict;
  const works = listWorks(verdict, basis.treatments).map(({ work, preparation, because }) => {
    const liner = cutLiner(work, lateral, walls, sections.pieces, basis);
    const placed = liner === null ? null : placeLiner(liner, lateral, condition, walls, cureFits, basis);
    const lines = measureBidLines(work, lateral, liner, basis);
    return {
      work,
      preparation,
      because,
      liner,
      placed,
      times: placed?.times ?? null,
      pieces: placed?.pieces ?? 1,
      branches: orAssumed(lateral.branches, basis.assumptions.branches).value,
      lines,
    };
  });
  const costs = works.map(({ lines }) => priceLines(lines, basis.prices));
  const ownWorks = basis.treatments.works[treatment];
  // A combination places two liners; the first is the one in the lateral, which the sheet shows.
  const pieces = works.flatMap(({ liner, placed }) =>
    liner === null || placed === null ? [] : [{ liner, placed }],
  );
  const main = pieces[0] ?? null;
  const cost = sumCosts(costs);
  return {
    treatment,
    works,
    pieces,
    liner: main?.liner ?? null,
    wall: main?.placed.wall ?? null,
    wetOut: main?.placed.wetOut ?? null,
    placed: main?.placed ?? null,
    bidLines: works.flatMap(({ lines }) => lines),
    crewTime: timeCrew(works, lateral.hostLength?.value ?? 0, basis.steps),
    cost,
    split: splitCost(cost, lateral),
    permission: judgePermission(treatment, lateral, { asOf: basis.program.asOf, seasonEnd: null }),
    life: judgeLife(
      works.map((each, i) => ({ ...each, cost: costs[i]!.total })),
      basis.life,
    ),
    after: judgeAfterWork(ownWorks, failure, basis),
  };
}

/**
 * What placing a liner takes: its resin, its cure, its forces, and the flow after it. Several sections are placed one after
 * another: resin is that of all, times and forces are of the longest.
 */
function placeLiner(
  liner: NonNullable<Liner>,
  lateral: Lateral,
  condition: Condition,
  walls: Walls,
  cureFits: CureFits,
  basis: Basis,
) {
  const use = useOf[liner.kind];
  const chosen = chosenFor(basis.liners, use);
  const both = wallsOf(walls, use);
  if (both === null)
    throw new RangeError(`placeLiner: a ${liner.kind} liner in ${lateral.id} without a wall`);
  const hostDiameter = lateral.hostDiameter?.value ?? null;
  const piece = longestPiece(liner);
  const ofPiece = wetOutLiner(piece, hostDiameter, chosen, basis);
  const wetOut =
    piece === liner
      ? ofPiece
      : { ...wetOutLiner(liner, hostDiameter, chosen, basis), potLife: ofPiece.potLife };
  const cure = planCure(piece, chosen);
  const forces = checkForces(piece, ofPiece, both, lateral, chosen, basis);
  const flow = compareFlow(liner, lateral, condition, basis);
  const times = {
    insertion: insertionTime(piece.cutLength, basis),
    cure: cure.curing,
    "cool-down": cure.coolDown,
  };
  return {
    use,
    wall: both[0],
    wetOut,
    cure,
    cureFit: cureFits[use],
    forces,
    flow,
    times,
    pieces: piecesIn(liner),
  };
}

export type PlannedLateral = ReturnType<typeof planLateral>;
export type Offer = PlannedLateral["chosen"];
