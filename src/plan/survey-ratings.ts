import {
  type Bounds,
  boundCountFrom,
  boundPipeRating,
  boundPipeRatingIndex,
  countOccurrences,
  type Grade,
  type Occurrences,
  pipeRating,
  pipeRatingIndex,
  type QuickRating,
  readQuickRating,
  rememberRatings,
  writeQuickRating,
} from "../engineering/quick-rating.ts";
import { type Metres, metres } from "../quantity/si.ts";
import type { ObservationMode } from "../reference/observation-kinds.ts";
import type { Inspection, Observation } from "./lateral.ts";

export type RatedMode = Exclude<ObservationMode, "inventory">;

/** What the observations of one survey come to in one mode. */
export interface Observed {
  readonly occurrences: Occurrences;
  /** Worst grade seen, 0 for no defect. */
  readonly worst: number;
  /** Defects of the mode, as observed. */
  readonly defects: readonly Observation[];
  /** Observations that may be of this mode and grade and may not: of unknown kind, or without a grade. */
  readonly uncertain: number;
}

/** How one survey rates in one mode, by its observations and by the rating it states. */
export interface ModeRating {
  /** The stated quick rating, as written; "" when there is none. */
  readonly stated: string;
  /** The same decoded; null where it cannot be. */
  readonly quick: QuickRating | null;
  readonly observed: Observed | null;
  /** The quick rating of the observations; null when some of them are uncertain. */
  readonly computed: string | null;
  /** Whether both say the same; null when there is nothing to compare. */
  readonly agrees: boolean | null;
  readonly by: "observations" | "quick rating" | "both, which differ";
  readonly rating: Bounds;
  /** Null without defects, or when it cannot be bounded. */
  readonly index: Bounds | null;
}

/** How many structural defects there are that a short liner must answer for, and over what length. */
export interface DefectCount {
  readonly least: number;
  /** May be Infinity. */
  readonly most: number;
  /** From the beginning of the first to the end of the last; null when the places are not known exactly. */
  readonly span: Metres | null;
  readonly by: ModeRating["by"] | "observations and quick rating";
}

/** A defect of this grade or worse asks for more than watching; the worst grade always counts. */
const COUNTED_FROM: Grade = 3;

/** Occurrences of one mode among a survey's observations; null when the program has no observation of the survey. */
function observedIn(survey: Inspection, mode: RatedMode): Observed | null {
  if (survey.observations === null) return null;
  const mayBe = survey.observations.filter((seen) => seen.mode === mode || seen.mode === "unknown");
  const defects = mayBe.filter((seen) => seen.mode === mode && seen.grade !== null && seen.grade > 0);
  const uncertain = mayBe.filter(
    (seen) => seen.grade === null || (seen.mode === "unknown" && seen.grade > 0),
  ).length;
  const graded = defects.map((seen) => ({ grade: seen.grade ?? Number.NaN, length: lengthOf(seen) }));
  return {
    occurrences: countOccurrences(graded),
    worst: Math.max(0, ...graded.map(({ grade }) => grade)),
    defects,
    uncertain,
  };
}

/** Length of a continuous observation; null for one at a point. */
export function lengthOf({ from, to }: Observation): Metres | null {
  if (from === null || to === null || from === to) return null;
  return metres(Math.abs(to - from));
}

/** Null when the survey says nothing of the mode beyond its grade. */
export function rateSurvey(survey: Inspection, mode: RatedMode): ModeRating | null {
  const stated = mode === "structural" ? survey.structuralQuick : survey.omQuick;
  if (survey.observations === null) return ratedByQuick(stated);
  const grade = mode === "structural" ? survey.structuralGrade : survey.omGrade;
  const quick = quickOf(stated);
  const observed = observedIn(survey, mode);
  if (observed === null || (observed.uncertain > 0 && quick !== null))
    return quick === null ? null : boundByQuick(stated, quick, observed);
  const { occurrences, worst, uncertain } = observed;
  const rating = pipeRating(occurrences);
  const index = pipeRatingIndex(occurrences);
  if (uncertain > 0) {
    // Each of them may add up to its grade, and a continuous one more: only the least is known.
    const bounds = { least: rating, most: Number.POSITIVE_INFINITY };
    return {
      stated,
      quick,
      observed,
      computed: null,
      agrees: null,
      by: "observations",
      rating: bounds,
      index: null,
    };
  }
  const computed = writeQuickRating(occurrences);
  const agrees =
    quick === null && grade === null
      ? null
      : (quick === null || computed === stated) && (grade === null || grade === worst);
  if (agrees === false && quick !== null) {
    const other = boundPipeRating(quick);
    const wide = { least: Math.min(rating, other.least), most: Math.max(rating, other.most) };
    return { stated, quick, observed, computed, agrees, by: "both, which differ", rating: wide, index: null };
  }
  return {
    stated,
    quick,
    observed,
    computed,
    agrees,
    by: "observations",
    // A stated grade that nobody observed leaves something out of the list.
    rating: { least: rating, most: agrees === false ? Number.POSITIVE_INFINITY : rating },
    index: index === null || agrees === false ? null : { least: index, most: index },
  };
}

const boundByQuick = (stated: string, quick: QuickRating, observed: Observed | null): ModeRating => ({
  stated,
  quick,
  observed,
  computed: null,
  agrees: null,
  by: "quick rating",
  rating: boundPipeRating(quick),
  index: boundPipeRatingIndex(quick),
});

/** The worst of the grade that a survey states, of its quick rating's first character and of its observations. */
export function worstGrade(grade: number | null, rated: ModeRating | null): number | null {
  if (rated === null) return grade;
  const { quick, observed } = rated;
  const stated = worse(grade, quick === null ? null : (quick.worst?.grade ?? 0));
  // A list without a defect is no grade of 0 where some of it is uncertain.
  return observed === null || (observed.worst === 0 && observed.uncertain > 0)
    ? stated
    : worse(stated, observed.worst);
}

export const worse = <T extends number>(a: T | null, b: T | null): T | null =>
  a === null ? b : b === null || a >= b ? a : b;

/** What a quick rating alone says: of each written rating once. */
const ratedByQuick = rememberRatings((stated: string): ModeRating | null => {
  const quick = quickOf(stated);
  return quick === null ? null : boundByQuick(stated, quick, null);
});

/** The defects that it alone bounds. */
const countedByQuick = rememberRatings((stated: string): DefectCount | null => {
  const shown = shownBy(quickOf(stated));
  return shown === null ? null : countOf(shown, null, "quick rating");
});

/** One shape of record for all counts: put together in five ways, they took a hundredth of the plan's time to be read. */
export const countOf = (
  { least, most }: Bounds,
  span: DefectCount["span"],
  by: DefectCount["by"],
): DefectCount => ({ least, most, span, by });

/**
 * The number of structural defects of grade 3 or worse (or of the worst grade there is). By the observations, each
 * counted once however long, where they agree with what the survey states; otherwise what the quick rating bounds, or
 * the wider of both. Null when nothing says it.
 */
export function countDefects(rated: ModeRating | null): DefectCount | null {
  if (rated === null) return null;
  const { observed, by } = rated;
  if (observed === null) return countedByQuick(rated.stated);
  const shown = shownBy(rated.quick);
  const from = countedFrom(observed.worst);
  const counted = observed.defects.filter(({ grade }) => (grade ?? 0) >= from);
  if (observed.uncertain > 0) {
    // The list may hide defects: the stated rating bounds them, and what was seen for certain is the least.
    const most = counted.length + observed.uncertain;
    return countOf(shown ?? { least: counted.length, most }, null, by);
  }
  if (rated.agrees !== false)
    return countOf({ least: counted.length, most: counted.length }, spanOf(counted), by);
  // Where only a grade is stated and nobody observed it, something is missing from the list.
  const other = shown ?? { least: counted.length, most: Number.POSITIVE_INFINITY };
  return countOf(
    { least: Math.min(counted.length, other.least), most: Math.max(counted.length, other.most) },
    null,
    "both, which differ",
  );
}

/** The number of them that a quick rating bounds; null without one. */
const shownBy = (quick: QuickRating | null): Bounds | null =>
  quick === null ? null : boundCountFrom(quick, countedFrom(quick.worst?.grade ?? COUNTED_FROM));

/** The least grade that counts where this is the worst. */
export const countedFrom = (worst: number): Grade =>
  worst >= 1 && worst < COUNTED_FROM ? (worst as Grade) : COUNTED_FROM;

/** From the nearest beginning to the farthest end; null when a place is missing or there is nothing. */
function spanOf(defects: readonly Observation[]): Metres | null {
  if (defects.length === 0) return null;
  let nearest = Number.POSITIVE_INFINITY;
  let farthest = Number.NEGATIVE_INFINITY;
  for (const { from, to } of defects) {
    if (from === null) return null;
    nearest = Math.min(nearest, from, to ?? from);
    farthest = Math.max(farthest, from, to ?? from);
  }
  return metres(farthest - nearest);
}

function quickOf(stated: string): QuickRating | null {
  const reading = readQuickRating(stated);
  return reading.kind === "rating" ? reading.rating : null;
}

/** Two parts of one pipe, which may overlap: at least what either shows, at most both together. */
export function overlapping(a: Bounds, b: Bounds): Bounds {
  return { least: Math.max(a.least, b.least), most: a.most + b.most };
}

/** The value where both bounds are one. */
export const exactly = (bounds: { readonly least: number; readonly most: number } | null): number | null =>
  bounds !== null && bounds.least === bounds.most ? bounds.least : null;
