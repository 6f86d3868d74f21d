import type { TreatmentKind } from "../columns/plan-columns.ts";
import type { Cents } from "../quantity/si.ts";
import type { WorkKind } from "../reference/works.ts";

import { type AfterWork, judgeAfterWork } from "./after-work.ts";
import { type BidLine, measureBidLines } from "./bid-lines.ts";
import { chooseTreatment } from "./choice.ts";
import { readCondition } from "./condition.ts";
import { type Cost, priceLines, sumCosts } from "./cost.ts";
import { type CostSplit, splitCost } from "./cost-split.ts";
import { type CrewTime, timeCrew } from "./crew-time.ts";
import { fitCures } from "./cure-fit.ts";
import { locateSeen } from "./defects-along.ts";
import { readEffluent } from "./effluent.ts";
import { type Failure, judgeFailure } from "./failure.ts";
import type { Lateral } from "./lateral.ts";
import { judgeLife, type Life } from "./life.ts";
import { cutLiner, type Liner, piecesIn } from "./liner.ts";
import { priceLining } from "./lining-prices.ts";
import { lookAgain } from "./look-again.ts";
import { judgePermission, type Permission, seasonStartOf } from "./permission.ts";
import { type LinerPlace, PlacedLiner } from "./placed-liner.ts";
import type { PlanBasis } from "./plan-basis.ts";
import type { Reason } from "./reason.ts";
import { scoreRisk } from "./risk.ts";
import { chooseSections, type Sections } from "./sections.ts";
import type { LinerTimes } from "./step-minutes.ts";
import { judgeTreatments, type Verdict } from "./verdicts.ts";
import { designWalls } from "./walls.ts";
import { listWorks, type OfferedWork, whyAdded } from "./works.ts";

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
  const place = { lateral, condition, failure, walls, cureFits, sections, basis };
  const offers = verdicts.offered.map((verdict) => new Offer(verdict, place));
  const choice = chooseTreatment(
    lateral,
    verdicts.offered,
    offers,
    basis.treatments.order,
    basis.life.choose,
  );
  const chosen = offers.find((offer) => offer.treatment === choice.treatment);
  if (chosen === undefined)
    throw new RangeError(`planLateral: ${lateral.id} has no offer for ${choice.treatment}`);
  const isLeft = choice.treatment === "leave and re-inspect" && !chosen.againstRules;
  const again = isLeft ? lookAgain(condition, basis.treatments) : null;
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
    again,
  };
}

/** What offers are made from. */
interface Place extends LinerPlace {
  readonly failure: Failure;
  readonly sections: Sections;
}

/**
 * One work of an offer: its liner cut, its lines measured. The liner is placed when somebody asks: what a treatment comes to needs no
 * placing, and of most treatments nothing else is asked (a twentieth of the plan's time).
 */
class DoneWork {
  readonly work: WorkKind;
  readonly preparation: boolean;
  readonly liner: Liner;
  readonly lines: readonly BidLine[];
  readonly branches: number;
  readonly #verdict: Verdict;
  readonly #place: Place;
  #priced: Cost | null = null;
  #placed: PlacedLiner | null = null;

  constructor(offered: OfferedWork, verdict: Verdict, place: Place) {
    const { lateral, walls, sections, basis } = place;
    this.work = offered.work;
    this.preparation = offered.preparation;
    this.liner = cutLiner(offered.work, lateral, walls, sections.pieces, basis);
    this.lines = measureBidLines(offered.work, lateral, this.liner, basis);
    this.branches = lateral.branches?.value ?? basis.assumptions.branches.value;
    this.#verdict = verdict;
    this.#place = place;
  }

  get because(): readonly Reason[] {
    return whyAdded(this, this.#verdict);
  }

  get priced(): Cost {
    this.#priced ??= priceLines(this.lines, this.#place.basis.prices);
    return this.#priced;
  }

  /** Null without a price. */
  get cost(): Cents | null {
    return this.priced.total;
  }

  /** Null for a work without a liner. */
  get placed(): PlacedLiner | null {
    if (this.#placed === null && this.liner !== null) this.#placed = new PlacedLiner(this.liner, this.#place);
    return this.#placed;
  }

  get times(): LinerTimes | null {
    return this.placed?.times ?? null;
  }

  get pieces(): number {
    return this.liner === null ? 1 : piecesIn(this.liner);
  }
}

/**
 * One eligible treatment, put together from its works, the preparatory ones first. Each part is worked out when it is first asked for, and
 * kept: of the treatments that are not chosen a plan asks at most for the worth.
 */
class Offer {
  readonly treatment: TreatmentKind;
  readonly #verdict: Verdict;
  readonly #place: Place;
  #works: readonly DoneWork[] | null = null;
  #cost: Cost | null = null;
  #bidLines: readonly BidLine[] | null = null;
  #pieces: readonly PlacedPiece[] | null = null;
  #crewTime: CrewTime | null = null;
  #split: CostSplit | null = null;
  #permission: Permission | null = null;
  #life: Life | null = null;
  #after: AfterWork | null = null;

  constructor(verdict: Verdict, place: Place) {
    this.treatment = verdict.treatment;
    this.#verdict = verdict;
    this.#place = place;
  }

  /** Whether only a person's decision makes it one. */
  get againstRules(): boolean {
    return this.#verdict.againstRules;
  }

  get works(): readonly DoneWork[] {
    this.#works ??= doWorks(this.#verdict, this.#place);
    return this.#works;
  }

  /** A combination places two liners; the first is the one in the lateral, which the sheet shows. */
  get pieces(): readonly PlacedPiece[] {
    this.#pieces ??= piecesOf(this.works);
    return this.#pieces;
  }

  get liner() {
    return this.pieces[0]?.liner ?? null;
  }

  get placed() {
    return this.pieces[0]?.placed ?? null;
  }

  get wall() {
    return this.placed?.wall ?? null;
  }

  get wetOut() {
    return this.placed?.wetOut ?? null;
  }

  get bidLines(): readonly BidLine[] {
    this.#bidLines ??= this.works.flatMap(({ lines }) => lines);
    return this.#bidLines;
  }

  get crewTime(): CrewTime {
    const { lateral, basis } = this.#place;
    this.#crewTime ??= timeCrew(this.works, lateral.hostLength?.value ?? 0, basis.steps);
    return this.#crewTime;
  }

  get cost(): Cost {
    this.#cost ??= sumCosts(this.works);
    return this.#cost;
  }

  get split(): CostSplit {
    this.#split ??= splitCost(this.cost, this.#place.lateral);
    return this.#split;
  }

  get permission(): Permission {
    const { lateral, basis } = this.#place;
    this.#permission ??= judgePermission(this.treatment, lateral, {
      asOf: basis.program.asOf,
      seasonStart: seasonStartOf(basis.calendar),
    });
    return this.#permission;
  }

  get life(): Life {
    this.#life ??= judgeLife(this.works, this.#place.basis.life);
    return this.#life;
  }

  get after(): AfterWork {
    const { failure, basis } = this.#place;
    this.#after ??= judgeAfterWork(basis.treatments.works[this.treatment], failure, basis);
    return this.#after;
  }
}

function doWorks(verdict: Verdict, place: Place): readonly DoneWork[] {
  const listed = listWorks(verdict, place.basis.treatments);
  if (listed.length === 0) return NO_WORKS;
  const works: DoneWork[] = [];
  for (const work of listed) works.push(new DoneWork(work, verdict, place));
  return works;
}

const NO_WORKS: readonly DoneWork[] = [];

interface PlacedPiece {
  readonly liner: NonNullable<Liner>;
  readonly placed: PlacedLiner;
}

function piecesOf(works: readonly DoneWork[]): readonly PlacedPiece[] {
  let pieces: PlacedPiece[] | null = null;
  for (const { liner, placed } of works)
    if (liner !== null && placed !== null) {
      if (pieces === null) pieces = [{ liner, placed }];
      else pieces.push({ liner, placed });
    }
  return pieces ?? NO_PIECES;
}

const NO_PIECES: readonly PlacedPiece[] = [];

export type PlannedLateral = ReturnType<typeof planLateral>;
export type { Offer };
