import type { ConditionState } from "../columns/plan-columns.ts";
import { type QuickRating, readQuickRating } from "../engineering/quick-rating.ts";
import { DAYS_PER_YEAR } from "../quantity/calendar.ts";
import { type Day, type Fraction, fraction } from "../quantity/si.ts";
import type { Inspection, Lateral } from "./lateral.ts";
import type { Reason } from "./reason.ts";
import { type Stated, stated } from "./stated.ts";

/** What the surveys say of a lateral at the program's as-of date. */
export interface Condition {
  readonly state: ConditionState;
  /** The survey that leads: the latest complete one, or the latest of all when none is complete. */
  readonly leading: Inspection | null;
  readonly structural: Stated<number> | null;
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

/** A survey that covered this part of the host or more counts as whole when the file does not say. Ours: camera counters drift. */
const WHOLE_SURVEY = 0.95;

/**
 * Condition from all surveys up to the as-of date: the latest complete one leads, and what a newer incomplete one
 * found worse is carried forward. A camera that stops at a collapse saw less, so it can never lower a grade.
 */
export function readCondition(lateral: Lateral, asOf: Day, tooOldYears: number): Condition {
  const surveys = lateral.inspections.filter((survey) => survey.on <= asOf);
  const reasons: Reason[] = [];
  if (surveys.length < lateral.inspections.length) {
    reasons.push({ code: "survey after as-of", count: lateral.inspections.length - surveys.length });
  }

  const leadingAt = surveys.findLastIndex((survey) => isComplete(survey, lateral));
  const complete = leadingAt >= 0;
  const leading = surveys[complete ? leadingAt : surveys.length - 1] ?? null;
  if (leading === null) {
    return {
      ...unseen,
      ...decidedGrades(lateral, null, null),
      reasons: [...reasons, { code: "not inspected" }],
    };
  }

  // Without a complete survey every incomplete one adds what it found.
  const newer = surveys.slice(complete ? leadingAt + 1 : 0);
  const reinspect: Reason[] = [];
  for (const survey of newer) {
    reinspect.push({ code: "survey stopped", on: survey.on, because: survey.stoppedBecause });
  }

  const structural = worstOf(leading, newer, structuralOf, "structural", reasons);
  const om = worstOf(leading, newer, omOf, "operation and maintenance", reasons);
  const connection = worstOf(leading, newer, (survey) => survey.connectionGrade, "connection", reasons);

  const ageYears = (asOf - leading.on) / DAYS_PER_YEAR;
  if (ageYears > tooOldYears) reinspect.push({ code: "survey too old", years: ageYears, limit: tooOldYears });

  const ovality = worstOvality(leading, newer);
  const reading = readQuickRating(leading.structuralQuick);
  return {
    state: complete ? "surveyed" : "surveyed in part",
    leading,
    ...decidedGrades(lateral, structural, om),
    connection,
    structuralRating: reading.kind === "rating" ? reading.rating : null,
    ovality,
    ageYears,
    reinspect,
    reasons,
  };
}

const unseen = {
  state: "not inspected",
  leading: null,
  connection: null,
  structuralRating: null,
  ovality: null,
  ageYears: null,
  reinspect: [],
} as const;

function decidedGrades(lateral: Lateral, structural: Stated<number> | null, om: Stated<number> | null) {
  return { structural: lateral.decided.structuralGrade ?? structural, om: lateral.decided.omGrade ?? om };
}

/** A survey that says so is complete; one that does not say is, unless it names a reason to stop or fell short. */
function isComplete(survey: Inspection, lateral: Lateral): boolean {
  if (survey.complete !== null) return survey.complete;
  if (survey.stoppedBecause !== "") return false;
  const length = lateral.hostLength?.value;
  return (
    survey.surveyedLength === null || length === undefined || survey.surveyedLength >= WHOLE_SURVEY * length
  );
}

/** The grade of the column or of the quick rating's first character, whichever is worse. */
const structuralOf = (survey: Inspection) => worseGrade(survey.structuralGrade, survey.structuralQuick);
const omOf = (survey: Inspection) => worseGrade(survey.omGrade, survey.omQuick);

function worseGrade(grade: number | null, quick: string): number | null {
  const reading = readQuickRating(quick);
  if (reading.kind === "refused") return grade;
  const rated = reading.rating.worst?.grade ?? 0;
  return grade === null ? rated : Math.max(grade, rated);
}

function worstOf(
  leading: Inspection,
  newer: readonly Inspection[],
  gradeOf: (survey: Inspection) => number | null,
  what: string,
  reasons: Reason[],
): Stated<number> | null {
  let worst = gradeOf(leading);
  for (const survey of newer) {
    const grade = gradeOf(survey);
    if (grade === null || (worst !== null && grade <= worst)) continue;
    if (survey !== leading) reasons.push({ code: "grade carried forward", what, grade, on: survey.on });
    worst = grade;
  }
  return worst === null ? null : stated(worst, "measured");
}

function worstOvality(leading: Inspection, newer: readonly Inspection[]): Stated<Fraction> | null {
  let worst: number | null = null;
  for (const { ovality } of [leading, ...newer]) {
    if (ovality !== null && (worst === null || ovality > worst)) worst = ovality;
  }
  return worst === null ? null : stated(fraction(worst), "measured");
}
