import type { ConditionState } from "../columns/plan-columns.ts";
import type { Bounds, QuickRating } from "../engineering/quick-rating.ts";
import { DAYS_PER_YEAR } from "../quantity/calendar.ts";
import type { Day, Fraction } from "../quantity/si.ts";
import { worstOf, worstOvality } from "./found-grades.ts";
import {
  connectionOf,
  type FoundSurveys,
  findSurveys,
  omOf,
  type RatedSurvey,
  structuralOf,
} from "./found-surveys.ts";
import type { Inspection, Lateral } from "./lateral.ts";
import type { Reason } from "./reason.ts";
import type { Stated } from "./stated.ts";
import { countDefects, countOf, type DefectCount, type ModeRating, overlapping } from "./survey-ratings.ts";

/** What the surveys say of a lateral at the program's as-of date. */
export interface Condition {
  readonly state: ConditionState;
  /** The survey that leads: the latest complete one, or the latest of all when none is complete. */
  readonly leading: Inspection | null;
  /** The other part, when two incomplete surveys from opposite ends count as one. */
  readonly joinedWith: Inspection | null;
  /** Of the leading survey, or of both its parts. */
  readonly ratings: readonly RatedSurvey[];
  /** Structural pipe rating and its index; null when nothing says them. */
  readonly pipeRating: { readonly rating: Bounds; readonly index: Bounds | null } | null;
  /** Structural defects that a short liner must answer for. */
  readonly defects: DefectCount | null;
  readonly structural: Stated<number> | null;
  /** Day of the survey that the structural grade is of: an older one's where the leading one says none, a newer one's that found worse; null without a survey. */
  readonly structuralSeen: Day | null;
  readonly om: Stated<number> | null;
  readonly connection: Stated<number> | null;
  /** The leading survey's structural quick rating, decoded; null when it has none. */
  readonly structuralRating: QuickRating | null;
  readonly ovality: Stated<Fraction> | null;
  readonly ageYears: number | null;
  /** Why another inspection is asked for; empty when it is not. */
  readonly reinspect: readonly Reason[];
  readonly reasons: readonly Reason[];
}

/** Of a lateral, what its condition is read from. */
export type Surveyed = Pick<Lateral, "hostLength" | "inspections" | "decided">;

/**
 * Condition from all surveys up to the as-of date: the latest complete one leads, and what a newer incomplete one
 * found worse is carried forward. A camera that stops at a collapse saw less, so it can never lower a grade. Two that
 * stopped short from opposite ends count as one complete survey where together they saw the whole (see joinSurveys).
 * One of which no grade can be made never leads over one with grades.
 * A grade that the leading survey does not state is still that of the latest older one which does: not said is not good.
 */
export function readCondition(
  lateral: Surveyed,
  asOf: Day,
  tooOldYears: number,
  joinWithinDays: number,
): Condition {
  const hostLength = lateral.hostLength?.value ?? null;
  const found = findSurveys(lateral.inspections, hostLength, asOf, joinWithinDays);
  return new FoundCondition(found, lateral.decided, asOf, tooOldYears);
}

/**
 * What everybody asks is read at once, the rest when it is asked: the fits ask for two grades and a day, and a plan for no reasons, which are
 * then told by the code that finds the grades. Read whole, a million took the fits a sixth more. Not to be copied or taken apart.
 */
class FoundCondition implements Condition {
  readonly state: ConditionState;
  readonly leading: Inspection | null;
  readonly ratings: readonly RatedSurvey[];
  readonly structural: Stated<number> | null;
  readonly structuralSeen: Day | null;
  readonly om: Stated<number> | null;
  readonly #found: FoundSurveys;
  readonly #asOf: Day;
  readonly #tooOldYears: number;
  #connection: Stated<number> | null | undefined;
  #reinspect: readonly Reason[] | null = null;

  constructor(found: FoundSurveys, decided: Lateral["decided"], asOf: Day, tooOldYears: number) {
    const { lead, leadingAt, parts } = found;
    const structural = worstOf(found, structuralOf);
    this.state = lead === null ? "not inspected" : leadingAt >= 0 ? "surveyed" : "surveyed in part";
    this.leading = lead === null ? null : lead.parts[0];
    this.ratings = parts;
    this.structural = decided.structuralGrade ?? structural.grade;
    this.structuralSeen = structural.seenOn ?? (lead === null ? null : lead.parts[0].on);
    this.om = decided.omGrade ?? worstOf(found, omOf).grade;
    this.#found = found;
    this.#asOf = asOf;
    this.#tooOldYears = tooOldYears;
  }

  get joinedWith(): Inspection | null {
    return this.#found.lead?.parts[1] ?? null;
  }

  get connection(): Stated<number> | null {
    if (this.#connection === undefined) this.#connection = worstOf(this.#found, connectionOf).grade;
    return this.#connection;
  }

  get ovality(): Stated<Fraction> | null {
    return worstOvality(this.#found);
  }

  get ageYears(): number | null {
    return this.leading === null ? null : (this.#asOf - this.leading.on) / DAYS_PER_YEAR;
  }

  get structuralRating(): QuickRating | null {
    return this.ratings.length === 1 ? (this.ratings[0]!.structural?.quick ?? null) : null;
  }

  get pipeRating(): Condition["pipeRating"] {
    return pipeRatingOf(this.ratings);
  }

  get defects(): DefectCount | null {
    return defectsOf(this.ratings);
  }

  get reinspect(): readonly Reason[] {
    this.#reinspect ??= whyAgain(this.#found, this.ageYears, this.#tooOldYears);
    return this.#reinspect;
  }

  get reasons(): readonly Reason[] {
    return listReasons(this.#found);
  }
}

function whyAgain(
  { newer, ungraded }: FoundSurveys,
  ageYears: number | null,
  tooOldYears: number,
): readonly Reason[] {
  const isTooOld = ageYears !== null && ageYears > tooOldYears;
  if (newer.length === 0 && !isTooOld) return NO_REASONS;
  const stopped = newer.flatMap(({ survey }): readonly Reason[] =>
    ungraded.includes(survey)
      ? []
      : [{ code: "survey stopped", on: survey.on, because: survey.stoppedBecause }],
  );
  return isTooOld ? [...stopped, { code: "survey too old", years: ageYears, limit: tooOldYears }] : stopped;
}

const NO_REASONS: readonly Reason[] = [];

function listReasons(found: FoundSurveys): readonly Reason[] {
  const { later, lead, parts } = found;
  const reasons: Reason[] = [];
  if (later > 0) reasons.push({ code: "survey after as-of", count: later });
  if (lead === null) return [...reasons, { code: "not inspected" }];
  const [first, second] = lead.parts;
  if (second !== undefined && lead.covered !== null)
    reasons.push({ code: "surveys joined", first: first.on, second: second.on, covered: lead.covered });
  worstOf(found, structuralOf, { what: "structural", reasons });
  worstOf(found, omOf, { what: "operation and maintenance", reasons });
  worstOf(found, connectionOf, { what: "connection", reasons });
  for (const { on } of found.ungraded) reasons.push({ code: "survey without grades", on });
  for (const { survey, structural, om } of parts) {
    if (structural?.agrees === false) reasons.push(disagreement(survey, structural, "structural"));
    if (om?.agrees === false) reasons.push(disagreement(survey, om, "operation and maintenance"));
  }
  return reasons;
}

const disagreement = (survey: Inspection, rating: ModeRating, what: string): Reason => ({
  code: "observations disagree",
  what: `${what} rating`,
  on: survey.on,
  stated: statedOf(survey, rating, what === "structural"),
  observed: rating.computed ?? "",
});

function statedOf(survey: Inspection, { stated }: ModeRating, structural: boolean): string {
  const grade = structural ? survey.structuralGrade : survey.omGrade;
  return [stated, grade === null ? "" : `grade ${grade}`].filter((part) => part !== "").join(", ");
}

/** Of two parts each must say it; they may overlap, so their sum is only the most. */
function pipeRatingOf(ratings: readonly RatedSurvey[]): Condition["pipeRating"] {
  const first = ratings[0]?.structural;
  const second = ratings[1]?.structural;
  if (first === undefined || first === null || second === null) return null;
  return second === undefined ? first : { rating: overlapping(first.rating, second.rating), index: null };
}

function defectsOf(ratings: readonly RatedSurvey[]): DefectCount | null {
  if (ratings.length === 0) return null;
  const first = countDefects(ratings[0]!.structural);
  if (ratings.length === 1 || first === null) return first;
  const second = countDefects(ratings[1]!.structural);
  if (second === null) return null;
  // Distances are from opposite ends, so a place is kept only where one part alone has defects.
  const span = second.most === 0 ? first.span : first.most === 0 ? second.span : null;
  return countOf(
    overlapping(first, second),
    span,
    first.by === second.by ? first.by : "observations and quick rating",
  );
}
