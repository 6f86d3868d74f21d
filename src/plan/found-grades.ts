import type { Day, Fraction } from "../quantity/si.ts";
import { type FoundSurveys, type RatedSurvey, rateAll } from "./found-surveys.ts";
import type { CountedSurvey } from "./joined-surveys.ts";
import type { Reason } from "./reason.ts";
import { type Stated, stated } from "./stated.ts";
import { worse } from "./survey-ratings.ts";

/** A grade, with the day of the survey that it is of where that is not the leading one: an older one that alone states it, or a newer one that found worse. */
export interface FoundGrade {
  readonly grade: Stated<number> | null;
  readonly seenOn: Day | null;
}

/** Where it is told how a grade was found. */
export interface Told {
  readonly what: string;
  readonly reasons: Reason[];
}

/** The worst grade that the surveys say: of the one that leads, of others of its day, or an older one's; and what newer ones found worse. */
export function worstOf(
  { parts, alongside, newer, counted, leadingAt }: FoundSurveys,
  gradeOf: (rated: RatedSurvey) => number | null,
  told: Told | null = null,
): FoundGrade {
  let worst: number | null = null;
  let seenOn: Day | null = null;
  for (const rated of parts) worst = worse(worst, gradeOf(rated));
  for (const rated of alongside) {
    const grade = gradeOf(rated);
    if (!isWorse(grade, worst)) continue;
    told?.reasons.push({ code: "grade of the same day", what: told.what, grade, on: rated.survey.on });
    worst = grade;
  }
  if (worst === null && leadingAt > 0) {
    const older = olderGrade(counted, leadingAt, gradeOf);
    if (older !== null) {
      told?.reasons.push({ code: "grade of an older survey", what: told.what, ...older });
      worst = older.grade;
      seenOn = older.on;
    }
  }
  // Where none is complete these are all of them, the leading one too: it is no worse than itself.
  for (const rated of newer) {
    const grade = gradeOf(rated);
    if (!isWorse(grade, worst)) continue;
    told?.reasons.push({ code: "grade carried forward", what: told.what, grade, on: rated.survey.on });
    worst = grade;
    seenOn = rated.survey.on;
  }
  if (seenOn === null) return worst === null ? NO_GRADE : (measuredGrades[worst] ?? measured(worst, null));
  return measured(worst, seenOn);
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

const measured = (grade: number | null, seenOn: Day | null): FoundGrade => ({
  grade: grade === null ? null : stated(grade, "measured"),
  seenOn,
});

/** One record of each grade for all laterals whose leading survey states it. */
const measuredGrades: readonly FoundGrade[] = [0, 1, 2, 3, 4, 5].map((grade) => measured(grade, null));
const NO_GRADE = measured(null, null);

/** The worst ovality of the same surveys; none is taken from an older one. */
export function worstOvality({ parts, alongside, newer }: FoundSurveys): Stated<Fraction> | null {
  let worst: Fraction | null = null;
  for (const { survey } of parts) worst = worse(worst, survey.ovality);
  for (const { survey } of alongside) worst = worse(worst, survey.ovality);
  for (const { survey } of newer) worst = worse(worst, survey.ovality);
  return worst === null ? null : stated(worst, "measured");
}
