import { rememberByNumber } from "../quantity/remember-by-number.ts";
import type { Metres } from "../quantity/si.ts";

/** Condition grade, 1 the best and 5 the worst. */
export type Grade = 1 | 2 | 3 | 4 | 5;

/** How often each grade was found, grade 1 first. */
export type Occurrences = readonly [number, number, number, number, number];

/** A grade and how often it was found: a range, because a letter stands for five counts. `most` may be Infinity. */
export interface GradeCount {
  readonly grade: Grade;
  readonly least: number;
  readonly most: number;
}

/** A four-character quick rating, decoded. */
export interface QuickRating {
  readonly worst: GradeCount | null;
  readonly second: GradeCount | null;
  /** Whether grades below the second may have been found and not shown. */
  readonly hidesGrades: boolean;
}

export type QuickRatingReading =
  | { readonly kind: "rating"; readonly rating: QuickRating }
  | { readonly kind: "refused"; readonly because: "shape" | "grades not falling"; readonly found: string };

/** Inclusive bounds; `most` may be Infinity. */
export interface Bounds {
  readonly least: number;
  readonly most: number;
}

const SHAPE = /^(?:0000|[1-5][1-9A-Z](?:00|[1-4][1-9A-Z]))$/;

const NO_NUMBER = 0;

/**
 * A quick rating: worst grade, its count, second worst grade, its count; "00" for no second grade, "0000" for no defects.
 *
 * Source: City of Santa Ana CA, Sewer Rate Study (November 2014), Appendix B p. 240: 5236 is 2 of grade 5 and 6 of grade 3.
 * Letters for counts above 9 are from memory, unverified: A 10–14, B 15–19, … each letter five more, Z 135 and above.
 * Text only: a spreadsheet makes a number of it (0000 → 0, 3E00 → 3, 2E13 → 20000000000000), and such damage is refused.
 */
export const readQuickRating: (text: string) => QuickRatingReading = rememberRatings(readAnew);

/**
 * Remembers what is made of a rating, for a survey's is asked for five times and a city has some hundreds of different ones. Four letters are
 * looked up by a number of them: in a map by texts it was half the time of a lateral's condition. Of any other text nothing is remembered: it is
 * no rating.
 */
export function rememberRatings<Made>(make: (text: string) => Made): (text: string) => Made {
  const remembered = rememberByNumber(make);
  return (text) => {
    const number = numberOfFour(text);
    return number === NO_NUMBER ? make(text) : remembered(number, text);
  };
}

/** Seven bits a letter; no number unless it is four letters of ASCII. */
function numberOfFour(text: string): number {
  if (text.length !== 4) return NO_NUMBER;
  const a = text.charCodeAt(0);
  const b = text.charCodeAt(1);
  const c = text.charCodeAt(2);
  const d = text.charCodeAt(3);
  return (a | b | c | d) < 128 ? (a << 21) | (b << 14) | (c << 7) | d : NO_NUMBER;
}

function readAnew(text: string): QuickRatingReading {
  if (!SHAPE.test(text)) return { kind: "refused", because: "shape", found: text };
  const worst = readPair(text.slice(0, 2));
  const second = readPair(text.slice(2));
  if (worst !== null && second !== null && second.grade >= worst.grade)
    return { kind: "refused", because: "grades not falling", found: text };
  return { kind: "rating", rating: { worst, second, hidesGrades: second !== null && second.grade > 1 } };
}

/** The quick rating of known occurrences. */
export function writeQuickRating(occurrences: Occurrences): string {
  verifyOccurrences(occurrences);
  const pairs: string[] = [];
  for (let grade = 5; grade >= 1 && pairs.length < 2; grade--) {
    const count = occurrences[grade - 1]!;
    if (count > 0) pairs.push(`${grade}${countCharacter(count)}`);
  }
  return pairs.join("").padEnd(4, "0");
}

/**
 * Pipe rating, PR = Σ g·n_g, over the surveyed length only: not per metre.
 * Source: published grading scheme, public explanation of 12 July 2023, in words (National Association of Sewer Service Companies).
 */
export function pipeRating(occurrences: Occurrences): number {
  verifyOccurrences(occurrences);
  return occurrences.reduce((sum, count, i) => sum + count * (i + 1), 0);
}

/** Pipe rating index, PRI = PR/Σ n_g, the mean grade. Null without defects: there is nothing to take a mean of. */
export function pipeRatingIndex(occurrences: Occurrences): number | null {
  const rating = pipeRating(occurrences);
  return rating === 0 ? null : rating / occurrences.reduce((sum, count) => sum + count, 0);
}

/** Structural and operational occurrences taken together: the overall rating is rated on these. */
export const addOccurrences = (a: Occurrences, b: Occurrences): Occurrences => [
  a[0] + b[0],
  a[1] + b[1],
  a[2] + b[2],
  a[3] + b[3],
  a[4] + b[4],
];

/** A continuous defect counts once per 5 ft (1.524 m), rounded, at least once. From memory, unverified. */
export function continuousOccurrences(length: Metres): number {
  if (!(length > 0)) throw new RangeError(`continuousOccurrences needs a length above 0 m, got ${length}`);
  return Math.max(1, Math.round(length / 1.524));
}

/**
 * Occurrences by grade of graded observations: one each, a continuous one as often as its length says. Grade 0 is no
 * defect and counts nowhere.
 */
export function countOccurrences(
  seen: Iterable<{ readonly grade: number; readonly length: Metres | null }>,
): Occurrences {
  const counts: [number, number, number, number, number] = [0, 0, 0, 0, 0];
  for (const { grade, length } of seen) {
    if (!(Number.isInteger(grade) && grade >= 0 && grade <= 5))
      throw new RangeError(`countOccurrences needs whole grades from 0 to 5, got ${grade}`);
    if (grade > 0) counts[grade - 1]! += length === null ? 1 : continuousOccurrences(length);
  }
  return counts;
}

/** What a quick rating says about the number of defects of this grade or worse. */
export function boundCountFrom(rating: QuickRating, from: Grade): Bounds {
  const { worst, second, hidesGrades } = rating;
  const shown = [worst, second].filter((pair) => pair !== null && pair.grade >= from);
  // Grades below the second are hidden: they matter only where one of them is still `from` or worse.
  const hidden = hidesGrades && second !== null && second.grade > from;
  return {
    least: shown.reduce((sum, pair) => sum + (pair?.least ?? 0), 0),
    most: hidden ? Infinity : shown.reduce((sum, pair) => sum + (pair?.most ?? 0), 0),
  };
}

/** What a quick rating says about the number of defects. Without an upper bound wherever lower grades are hidden. */
export function boundCount(rating: QuickRating): Bounds {
  const shown = sumShown(rating, () => 1);
  return { least: shown.least, most: rating.hidesGrades ? Infinity : shown.most };
}

/** What a quick rating says about the pipe rating. */
export function boundPipeRating(rating: QuickRating): Bounds {
  const shown = boundSegmentScore(rating);
  return { least: shown.least, most: rating.hidesGrades ? Infinity : shown.most };
}

/**
 * What a quick rating says about the pipe rating index; null without defects. Most: as many of the worst and as few of the
 * others as possible. Least: the other way round; with hidden grades any number of grade 1 may follow, so it is 1, which is
 * approached and not met.
 */
export function boundPipeRatingIndex(rating: QuickRating): Bounds | null {
  const { worst, second, hidesGrades } = rating;
  if (worst === null) return null;
  if (second === null) return { least: worst.grade, most: worst.grade };
  return {
    least: hidesGrades ? 1 : meanGrade(worst.grade, worst.least, second.grade, second.most),
    most: meanGrade(worst.grade, worst.most, second.grade, second.least),
  };
}

/**
 * Segment score g₁·n₁ + g₂·n₂ of the shown characters. A letter gives a range.
 * Source: City of Santa Ana CA, Sewer Rate Study (November 2014), p. 255, where the city's range was 0–161 and 16.1 brought it
 * to 0–10: the divisor is a city's own. The "raw method" on p. 240 takes the worst grade alone.
 */
export const boundSegmentScore = (rating: QuickRating): Bounds => sumShown(rating, (grade) => grade);

/**
 * Likelihood of failure, 1 to 6, from the OVERALL quick rating: its first two characters as a decimal (5132 → 5.1), a letter as
 * the next whole number (5A… → 6). Null without defects. The range is published (NASSCO FAQ); the rule is from memory,
 * unverified. Times 5/6 it matches a consequence scale of 1–5.
 */
export function likelihoodOfFailure({ worst }: QuickRating): number | null {
  if (worst === null) return null;
  return worst.least >= 10 ? worst.grade + 1 : worst.grade + worst.least / 10;
}

/** Least and most of Σ weight·count over the shown pairs; no pair, no defects. */
function sumShown({ worst, second }: QuickRating, weigh: (grade: Grade) => number): Bounds {
  const shown = [worst, second].filter((pair) => pair !== null);
  return {
    least: shown.reduce((sum, { grade, least }) => sum + weigh(grade) * least, 0),
    most: shown.reduce((sum, { grade, most }) => sum + weigh(grade) * most, 0),
  };
}

function readPair(pair: string): GradeCount | null {
  if (pair === "00") return null;
  const grade = Number(pair[0]) as Grade;
  const code = pair.charCodeAt(1);
  if (code <= 57) return { grade, least: code - 48, most: code - 48 };
  const least = 10 + 5 * (code - 65);
  return { grade, least, most: code === 90 ? Infinity : least + 4 };
}

const countCharacter = (count: number): string =>
  count <= 9 ? String(count) : String.fromCharCode(65 + Math.min(25, Math.floor((count - 10) / 5)));

/** Mean grade of two counts; an unlimited first count makes it the first grade. */
const meanGrade = (g1: number, n1: number, g2: number, n2: number): number =>
  n1 === Infinity ? g1 : n2 === Infinity ? g2 : (g1 * n1 + g2 * n2) / (n1 + n2);

function verifyOccurrences(occurrences: Occurrences): void {
  for (const count of occurrences)
    if (!(Number.isSafeInteger(count) && count >= 0))
      throw new RangeError(`occurrences must be whole numbers of 0 or more, got ${occurrences.join(", ")}`);
}
