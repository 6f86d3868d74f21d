import type { Day, Metres } from "../quantity/si.ts";
import { type CountedSurvey, isComplete, joinSurveys } from "./joined-surveys.ts";
import { type Inspection, wholeSurvey } from "./lateral.ts";
import { type ModeRating, rateSurvey, worstGrade } from "./survey-ratings.ts";

/** A survey that leads, or a part of the two that do, with what it rates. */
export interface RatedSurvey {
  readonly survey: Inspection;
  readonly structural: ModeRating | null;
  readonly om: ModeRating | null;
}

/** Of a lateral's surveys the one that leads, and those that add to it. */
export interface FoundSurveys {
  /** Surveys after the as-of date, which are left out. */
  readonly later: number;
  /** Null when there is none. */
  readonly lead: CountedSurvey | null;
  /** Place of it among those counted; below 0 when none is complete. */
  readonly leadingAt: number;
  readonly counted: readonly CountedSurvey[];
  /** Of the one that leads, or both its parts. */
  readonly parts: readonly RatedSurvey[];
  /** Complete ones of its day. */
  readonly alongside: readonly RatedSurvey[];
  /** After it; without a complete survey all of them, for every incomplete one adds what it found. */
  readonly newer: readonly RatedSurvey[];
  /** Complete ones of which no grade can be made, that would lead if others had none either. */
  readonly ungraded: readonly Inspection[];
}

const NO_RATINGS: readonly RatedSurvey[] = [];

/** One record for all laterals without a survey. */
const NOTHING_FOUND: FoundSurveys = {
  later: 0,
  lead: null,
  leadingAt: -1,
  counted: [],
  parts: NO_RATINGS,
  alongside: NO_RATINGS,
  newer: NO_RATINGS,
  ungraded: [],
};

/** @param surveys oldest first */
export function findSurveys(
  surveys: readonly Inspection[],
  hostLength: Metres | null,
  asOf: Day,
  joinWithinDays: number,
): FoundSurveys {
  const seen = inOrder(upTo(asOf, surveys), hostLength);
  const later = surveys.length - seen.length;
  if (seen.length === 0) return later === 0 ? NOTHING_FOUND : { ...NOTHING_FOUND, later };
  const counted = joinSurveys(seen, hostLength, joinWithinDays);
  const passed = counted.length === 1 ? NO_SURVEYS : ungradedAmong(counted);
  const leadingAt = lastOf(counted, passed, true);
  const complete = leadingAt >= 0;
  const lead = counted[complete ? leadingAt : lastOf(counted, passed, false)]!;
  const { parts } = lead;
  const isOne = complete && parts.length === 1;
  return {
    later,
    lead,
    leadingAt,
    counted,
    parts: rateAll(parts),
    alongside: isOne ? rateAll(completeOf(parts[0].on, leadingAt, counted)) : NO_RATINGS,
    newer: rateAll(partsFrom(leadingAt + 1, counted)),
    ungraded: passed.length === 0 ? NO_SURVEYS : passed.filter(({ on }) => on >= lead.parts[0].on),
  };
}

/*
 * Nearly all laterals have one survey or none: lists are walked, and come back as they are where nothing is left out of them. Filtered,
 * mapped and spread for each lateral, they took half of this stage's time.
 */
const NO_SURVEYS: readonly Inspection[] = [];

function upTo(asOf: Day, surveys: readonly Inspection[]): readonly Inspection[] {
  for (const survey of surveys) if (!(survey.on <= asOf)) return surveys.filter(({ on }) => on <= asOf);
  return surveys;
}

/** The last of them, or the last complete one, that is not passed over; below 0 where there is none. */
function lastOf(
  counted: readonly CountedSurvey[],
  passed: readonly Inspection[],
  onlyComplete: boolean,
): number {
  let at = counted.length - 1;
  while (at >= 0 && ((onlyComplete && !counted[at]!.complete) || passed.includes(counted[at]!.parts[0])))
    at--;
  return at;
}

/**
 * Complete surveys that say no grade, where others do: that a camera passed, and nobody wrote what it saw, is no newer knowledge of the pipe.
 * Surveys nearly always state a grade, and are then not rated here.
 */
function ungradedAmong(counted: readonly CountedSurvey[]): readonly Inspection[] {
  const ungraded: Inspection[] = [];
  let graded = 0;
  for (const { complete, parts } of counted)
    if (parts.some(saysGrade)) graded++;
    else if (complete) ungraded.push(...parts);
  return graded === 0 ? NO_SURVEYS : ungraded;
}

function saysGrade(survey: Inspection): boolean {
  const { structuralGrade, omGrade, connectionGrade } = survey;
  if (structuralGrade !== null || omGrade !== null || connectionGrade !== null) return true;
  const rated = rateSurveyed(survey);
  return structuralOf(rated) !== null || omOf(rated) !== null;
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
      (JSON.stringify(wholeSurvey(a.survey)) < JSON.stringify(wholeSurvey(b.survey)) ? -1 : 1),
  );
  return ordered.map(({ survey }) => survey);
}

export function rateAll(surveys: readonly Inspection[]): readonly RatedSurvey[] {
  if (surveys.length === 0) return NO_RATINGS;
  return surveys.length === 1 ? [rateSurveyed(surveys[0]!)] : surveys.map(rateSurveyed);
}

export function rateSurveyed(survey: Inspection): RatedSurvey {
  return { survey, structural: rateSurvey(survey, "structural"), om: rateSurvey(survey, "operation") };
}

export const structuralOf = ({ survey, structural }: RatedSurvey): number | null =>
  worstGrade(survey.structuralGrade, structural);
export const omOf = ({ survey, om }: RatedSurvey): number | null => worstGrade(survey.omGrade, om);
export const connectionOf = ({ survey }: RatedSurvey): number | null => survey.connectionGrade;
