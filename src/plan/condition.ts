import type { ConditionState } from "../columns/plan-columns.ts";
import type { Bounds, QuickRating } from "../engineering/quick-rating.ts";
import { DAYS_PER_YEAR } from "../quantity/calendar.ts";
import type { Day, Fraction, Metres } from "../quantity/si.ts";
import { type CountedSurvey, isComplete, joinSurveys } from "./joined-surveys.ts";
import type { Inspection, Lateral } from "./lateral.ts";
import type { Reason } from "./reason.ts";
import { type Stated, stated } from "./stated.ts";
import {
  countDefects,
  countOf,
  type DefectCount,
  type ModeRating,
  overlapping,
  rateSurvey,
  worse,
  worstGrade,
} from "./survey-ratings.ts";

/** A survey that leads, or a part of the two that do, with what it rates. */
export interface RatedSurvey {
  readonly survey: Inspection;
  readonly structural: ModeRating | null;
  readonly om: ModeRating | null;
  readonly defects: DefectCount | null;
}

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
  /** Day of the survey that the structural grade is of: an older one's where the leading one says none; null without a survey. */
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
 * A grade that the leading survey does not state is still that of the latest older one which does: not said is not good.
 */
export function readCondition(
  lateral: Surveyed,
  asOf: Day,
  tooOldYears: number,
  joinWithinDays: number,
): Condition {
  const hostLength = lateral.hostLength?.value ?? null;
  const surveys = inOrder(upTo(asOf, lateral.inspections), hostLength);
  const reasons: Reason[] = [];
  if (surveys.length < lateral.inspections.length) {
    reasons.push({ code: "survey after as-of", count: lateral.inspections.length - surveys.length });
  }
  if (surveys.length === 0) return unseen(lateral, reasons);

  const counted = joinSurveys(surveys, hostLength, joinWithinDays);
  const leadingAt = lastComplete(counted);
  const complete = leadingAt >= 0;
  const { parts, covered } = counted[complete ? leadingAt : counted.length - 1]!;
  const leading = parts[0];
  const second = parts[1];
  if (second !== undefined && covered !== null)
    reasons.push({ code: "surveys joined", first: leading.on, second: second.on, covered });

  // Without a complete survey every incomplete one adds what it found.
  const newer = partsFrom(complete ? leadingAt + 1 : 0, counted);
  const reinspect: Reason[] = [];
  for (const survey of newer) {
    reinspect.push({ code: "survey stopped", on: survey.on, because: survey.stoppedBecause });
  }
  const alongside =
    complete && second === undefined ? completeOf(leading.on, leadingAt, counted) : NO_SURVEYS;

  const ratings = rateAll(parts);
  const found = {
    parts: ratings,
    alongside: rateAll(alongside),
    newer: rateAll(newer),
    counted,
    leadingAt,
  };
  const structural = worstOf(found, structuralOf, "structural", reasons);
  const om = worstOf(found, omOf, "operation and maintenance", reasons);
  const connection = worstOf(found, connectionOf, "connection", reasons);

  const ageYears = (asOf - leading.on) / DAYS_PER_YEAR;
  if (ageYears > tooOldYears) reinspect.push({ code: "survey too old", years: ageYears, limit: tooOldYears });

  for (const { survey, structural, om } of ratings) {
    if (structural?.agrees === false) reasons.push(disagreement(survey, structural, "structural"));
    if (om?.agrees === false) reasons.push(disagreement(survey, om, "operation and maintenance"));
  }
  return {
    state: complete ? "surveyed" : "surveyed in part",
    leading,
    joinedWith: second ?? null,
    ratings,
    pipeRating: pipeRatingOf(ratings),
    defects: defectsOf(ratings),
    structural: lateral.decided.structuralGrade ?? structural.grade,
    structuralSeen: structural.olderOn ?? leading.on,
    om: lateral.decided.omGrade ?? om.grade,
    connection: connection.grade,
    structuralRating: second === undefined ? (ratings[0]!.structural?.quick ?? null) : null,
    ovality: worstOvality(found),
    ageYears,
    reinspect,
    reasons,
  };
}

const unseen = ({ decided }: Surveyed, reasons: readonly Reason[]): Condition => ({
  state: "not inspected",
  leading: null,
  joinedWith: null,
  ratings: [],
  pipeRating: null,
  defects: null,
  structural: decided.structuralGrade,
  structuralSeen: null,
  om: decided.omGrade,
  connection: null,
  structuralRating: null,
  ovality: null,
  ageYears: null,
  reinspect: [],
  reasons: [...reasons, { code: "not inspected" }],
});

/*
 * Nearly all laterals have one survey or none: lists are walked, and come back as they are where nothing is left out of them. Filtered,
 * mapped and spread for each lateral, they took half of this stage's time.
 */
const NO_SURVEYS: readonly Inspection[] = [];

function upTo(asOf: Day, surveys: readonly Inspection[]): readonly Inspection[] {
  for (const survey of surveys) if (!(survey.on <= asOf)) return surveys.filter(({ on }) => on <= asOf);
  return surveys;
}

function lastComplete(counted: readonly CountedSurvey[]): number {
  let at = counted.length - 1;
  while (at >= 0 && !counted[at]!.complete) at--;
  return at;
}

function partsFrom(first: number, counted: readonly CountedSurvey[]): readonly Inspection[] {
  if (first === counted.length) return NO_SURVEYS;
  if (first === counted.length - 1) return counted[first]!.parts;
  return counted.slice(first).flatMap(({ parts }) => parts);
}

/** Two complete surveys of one day: neither is the later, so the worse of both counts. */
function completeOf(on: Day, before: number, counted: readonly CountedSurvey[]): readonly Inspection[] {
  let found: Inspection[] | null = null;
  for (let i = 0; i < before; i++) {
    const { complete, parts } = counted[i]!;
    if (!complete || parts.length > 1 || parts[0].on !== on) continue;
    found ??= [];
    found.push(parts[0]);
  }
  return found ?? NO_SURVEYS;
}

/**
 * By day; within a day complete ones first, since an incomplete one of the same day may only add; then by what they found,
 * worst last. So the order of the file's rows never matters.
 * Nearly all laterals have one survey a day and come back as they are.
 */
function inOrder(surveys: readonly Inspection[], hostLength: Metres | null): readonly Inspection[] {
  let i = 1;
  while (i < surveys.length && surveys[i]!.on > surveys[i - 1]!.on) i++;
  if (i >= surveys.length) return surveys;
  const grade = (value: number | null) => value ?? -1;
  const ordered = rateAll(surveys).toSorted(
    (a, b) =>
      a.survey.on - b.survey.on ||
      Number(isComplete(b.survey, hostLength)) - Number(isComplete(a.survey, hostLength)) ||
      grade(structuralOf(a)) - grade(structuralOf(b)) ||
      grade(omOf(a)) - grade(omOf(b)) ||
      grade(connectionOf(a)) - grade(connectionOf(b)) ||
      (textOf(a.survey) < textOf(b.survey) ? -1 : 1),
  );
  return ordered.map(({ survey }) => survey);
}

/** All that a survey says: its values one by one, for a record that is read late has none of its own. */
const textOf = (survey: Inspection): string =>
  JSON.stringify({
    on: survey.on,
    structuralGrade: survey.structuralGrade,
    omGrade: survey.omGrade,
    connectionGrade: survey.connectionGrade,
    surveyedLength: survey.surveyedLength,
    complete: survey.complete,
    ovality: survey.ovality,
    observations: survey.observations,
    structuralQuick: survey.structuralQuick,
    omQuick: survey.omQuick,
    stoppedBecause: survey.stoppedBecause,
    direction: survey.direction,
  } satisfies Inspection);

function rateAll(surveys: readonly Inspection[]): readonly RatedSurvey[] {
  if (surveys.length === 0) return NO_RATINGS;
  return surveys.length === 1 ? [rateSurveyed(surveys[0]!)] : surveys.map(rateSurveyed);
}

const NO_RATINGS: readonly RatedSurvey[] = [];

function rateSurveyed(survey: Inspection): RatedSurvey {
  const structural = rateSurvey(survey, "structural");
  return { survey, structural, om: rateSurvey(survey, "operation"), defects: countDefects(structural) };
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
  return second === undefined
    ? { rating: first.rating, index: first.index }
    : { rating: overlapping(first.rating, second.rating), index: null };
}

function defectsOf(ratings: readonly RatedSurvey[]): DefectCount | null {
  const first = ratings[0]?.defects;
  const second = ratings[1]?.defects;
  if (first === undefined || first === null || second === null) return null;
  if (second === undefined) return first;
  // Distances are from opposite ends, so a place is kept only where one part alone has defects.
  const span = second.most === 0 ? first.span : first.most === 0 ? second.span : null;
  return countOf(
    overlapping(first, second),
    span,
    first.by === second.by ? first.by : "observations and quick rating",
  );
}

const structuralOf = ({ survey, structural }: RatedSurvey) => worstGrade(survey.structuralGrade, structural);
const omOf = ({ survey, om }: RatedSurvey) => worstGrade(survey.omGrade, om);
const connectionOf = ({ survey }: RatedSurvey) => survey.connectionGrade;

interface Found {
  readonly parts: readonly RatedSurvey[];
  readonly alongside: readonly RatedSurvey[];
  readonly newer: readonly RatedSurvey[];
  readonly counted: readonly CountedSurvey[];
  readonly leadingAt: number;
}

/** A grade, with the day of the older survey that it is of where the leading one does not state it. */
interface FoundGrade {
  readonly grade: Stated<number> | null;
  readonly olderOn: Day | null;
}

function worstOf(
  { parts, alongside, newer, counted, leadingAt }: Found,
  gradeOf: (rated: RatedSurvey) => number | null,
  what: string,
  reasons: Reason[],
): FoundGrade {
  let worst: number | null = null;
  let olderOn: Day | null = null;
  for (const rated of parts) worst = worse(worst, gradeOf(rated));
  for (const rated of alongside) {
    const grade = gradeOf(rated);
    if (!isWorse(grade, worst)) continue;
    reasons.push({ code: "grade of the same day", what, grade, on: rated.survey.on });
    worst = grade;
  }
  if (worst === null && leadingAt > 0) {
    const older = olderGrade(counted, leadingAt, gradeOf);
    if (older !== null) {
      reasons.push({ code: "grade of an older survey", what, ...older });
      worst = older.grade;
      olderOn = older.on;
    }
  }
  // Where none is complete these are all of them, the leading one too: it is no worse than itself.
  for (const rated of newer) {
    const grade = gradeOf(rated);
    if (!isWorse(grade, worst)) continue;
    reasons.push({ code: "grade carried forward", what, grade, on: rated.survey.on });
    worst = grade;
  }
  if (olderOn === null) return worst === null ? NO_GRADE : (measuredGrades[worst] ?? measured(worst, null));
  return measured(worst, olderOn);
}

/**
 * Before the leading survey: the worst that is said back to the latest complete one that states a grade, and by others of its day. Two parts
 * that were joined do not end it: so one more survey that stopped short never lowers a grade here either.
 */
function olderGrade(
  counted: readonly CountedSurvey[],
  leadingAt: number,
  gradeOf: (rated: RatedSurvey) => number | null,
): { readonly grade: number; readonly on: Day } | null {
  let found: { readonly grade: number; readonly on: Day } | null = null;
  let lastDay: Day | null = null;
  for (let i = leadingAt - 1; i >= 0; i--) {
    const { complete, parts } = counted[i]!;
    if (lastDay !== null && parts[0].on < lastDay) break;
    for (const rated of rateAll(parts)) {
      const grade = gradeOf(rated);
      if (grade === null) continue;
      if (complete && parts.length === 1) lastDay ??= rated.survey.on;
      if (isWorse(grade, found?.grade ?? null)) found = { grade, on: rated.survey.on };
    }
  }
  return found;
}

const isWorse = (grade: number | null, known: number | null): grade is number =>
  grade !== null && (known === null || grade > known);

const measured = (grade: number | null, olderOn: Day | null): FoundGrade => ({
  grade: grade === null ? null : stated(grade, "measured"),
  olderOn,
});

/** One record of each grade for all laterals whose leading survey states it. */
const measuredGrades: readonly FoundGrade[] = [0, 1, 2, 3, 4, 5].map((grade) => measured(grade, null));
const NO_GRADE = measured(null, null);

function worstOvality({ parts, alongside, newer }: Found): Stated<Fraction> | null {
  let worst: Fraction | null = null;
  for (const { survey } of parts) worst = worse(worst, survey.ovality);
  for (const { survey } of alongside) worst = worse(worst, survey.ovality);
  for (const { survey } of newer) worst = worse(worst, survey.ovality);
  return worst === null ? null : stated(worst, "measured");
}
