import type { Metres } from "../quantity/si.ts";
import type { Inspection } from "./lateral.ts";

/** Surveys of this part of the host or more count as whole. Ours: camera counters drift. */
export const WHOLE_SURVEY = 0.95;

/** A survey that counts: one of the file, or two that stopped short from opposite ends and together saw the whole. */
export interface CountedSurvey {
  readonly complete: boolean;
  /** One survey, or the earlier and the later of two. */
  readonly parts: readonly [Inspection] | readonly [Inspection, Inspection];
  /** Part of the host that two parts saw together; null for one survey. */
  readonly covered: number | null;
}

/**
 * Pairs incomplete surveys that started from opposite ends, not more than so many days apart, when their surveyed
 * lengths together reach {@link WHOLE_SURVEY} of the host's. A pair stands where its earlier part stood, so that whatever came
 * after that is still newer. No pair is made across a complete survey: that one has seen more than either part.
 *
 * @param surveys in order of day
 * @param hostLength null when it is not known, and then nothing is paired
 */
export function joinSurveys(
  surveys: readonly Inspection[],
  hostLength: Metres | null,
  withinDays: number,
): readonly CountedSurvey[] {
  if (surveys.length === 1) return [countOne(surveys[0]!, hostLength)];
  // Pushed: what map gives is another kind of list to the engine once it has compiled this, and all that reads it was compiled anew.
  const counted: CountedSurvey[] = [];
  let stoppedShort = 0;
  for (const survey of surveys) {
    const one = countOne(survey, hostLength);
    if (!one.complete) stoppedShort++;
    counted.push(one);
  }
  return hostLength === null || stoppedShort < 2 ? counted : pairUp(surveys, counted, hostLength, withinDays);
}

const countOne = (survey: Inspection, hostLength: Metres | null): CountedSurvey => ({
  complete: isComplete(survey, hostLength),
  parts: [survey],
  covered: null,
});

function pairUp(
  surveys: readonly Inspection[],
  single: readonly CountedSurvey[],
  hostLength: Metres,
  withinDays: number,
): readonly CountedSurvey[] {
  const counted: (CountedSurvey | null)[] = [...single];
  for (let later = 1; later < surveys.length; later++) {
    const survey = surveys[later]!;
    if (counted[later]?.complete !== false) continue;
    for (let earlier = later - 1; earlier >= 0; earlier--) {
      const before = counted[earlier] ?? null;
      const other = surveys[earlier];
      // Taken by an earlier pair.
      if (before === null) continue;
      if (before.complete || other === undefined || survey.on - other.on > withinDays) break;
      const covered = coveredTogether(other, survey, hostLength);
      if (covered === null || covered < WHOLE_SURVEY) continue;
      counted[earlier] = { complete: true, parts: [other, survey], covered };
      counted[later] = null;
      break;
    }
  }
  return counted.filter((each) => each !== null);
}

/** Null when the two did not start from opposite ends, or the file does not say how far they came. */
function coveredTogether(a: Inspection, b: Inspection, hostLength: Metres): number | null {
  if (a.direction === null || b.direction === null || a.direction === b.direction) return null;
  if (a.surveyedLength === null || b.surveyedLength === null) return null;
  return (a.surveyedLength + b.surveyedLength) / hostLength;
}

/**
 * A survey that says so is complete, unless it names a reason to stop and fell short: then it says two things, and it is on the safe side to
 * believe the camera. One that does not say is complete unless it does either.
 */
export function isComplete(survey: Inspection, hostLength: Metres | null): boolean {
  const { complete, surveyedLength } = survey;
  if (complete === false) return false;
  const fellShort =
    surveyedLength !== null && hostLength !== null && surveyedLength < WHOLE_SURVEY * hostLength;
  // The reason is text, so it is asked last.
  if (complete === true) return !fellShort || survey.stoppedBecause === "";
  return !fellShort && survey.stoppedBecause === "";
}
