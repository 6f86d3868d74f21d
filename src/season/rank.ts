import { sortedByDigit, sortedByNumber } from "../sheet/digit-order.ts";
import { type NumberColumn, numbersOf, type Table } from "../sheet/table.ts";
import { rowsByText } from "../sheet/text-order.ts";

/**
 * Scores closer than this are one score: a fifteenth digit that depends on the order of a sum must not decide which
 * lateral comes first.
 */
const SCORE_STEP = 1e-6;

/** A score as the ranking compares it, in whole steps. */
export const scoreInSteps = (score: number): number => Math.round(score / SCORE_STEP);

/** The score of so many steps, for showing. */
export const scoreOfSteps = (steps: number): number => steps * SCORE_STEP;

export interface Ranking {
  /** Rows, worst first. */
  readonly order: Uint32Array;
  /** Of each row, 1 first. */
  readonly rank: NumberColumn;
}

/**
 * Order of the laterals by risk, worst first and without a score last, as row numbers; and each row's rank, 1 first. Ties are broken by
 * structural grade, then O&M grade (both worst first, unknown last), then id by code points, which is unique: the
 * order of the file never matters.
 */
export function rankLaterals(laterals: Table): Ranking {
  const { rows } = laterals;
  const risk = numbersOf(laterals, "risk");
  const structural = numbersOf(laterals, "structural_grade");
  const om = numbersOf(laterals, "om_grade");
  // Both the lower, the sooner.
  const score = new Float64Array(rows);
  const grades = new Uint16Array(rows);
  for (let row = 0; row < rows; row++) {
    score[row] = Number.isNaN(risk[row]!) ? Number.POSITIVE_INFINITY : 0 - scoreInSteps(risk[row]!);
    grades[row] = worstFirst(structural[row]!) * GRADES + worstFirst(om[row]!);
  }
  // Each sort keeps the order of those alike, so the last to decide comes first.
  const order = sortedByNumber(sortedByDigit(rowsByText(laterals, "lateral"), grades), score);
  const values = new Float64Array(new SharedArrayBuffer(rows * 8));
  for (let place = 0; place < rows; place++) values[order[place]!] = place + 1;
  return { order, rank: { kind: "number", values } };
}

const WORST = 5;
/** Places of a grade among grades: 5 to 0, then not known. */
const GRADES = WORST + 2;

const worstFirst = (grade: number): number => (Number.isNaN(grade) ? WORST + 1 : WORST - grade);
