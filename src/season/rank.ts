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

/**
 * Order of the laterals by risk, worst first and without a score last, as row numbers; and each row's rank, 1 first. Ties are broken by
 * structural grade, then O&M grade (both worst first, unknown last), then id by code points, which is unique: the
 * order of the file never matters.
 */
export function rankLaterals(laterals: Table): { readonly order: Uint32Array; readonly rank: NumberColumn } {
  const { rows } = laterals;
  const risk = numbersOf(laterals, "risk");
  const structural = numbersOf(laterals, "structural_grade");
  const om = numbersOf(laterals, "om_grade");
  const score = new Float64Array(rows);
  const grades = new Float64Array(rows);
  for (let row = 0; row < rows; row++) {
    score[row] = Number.isNaN(risk[row]!) ? Number.NEGATIVE_INFINITY : scoreInSteps(risk[row]!);
    grades[row] = orLast(structural[row]!) * GRADES + orLast(om[row]!);
  }
  // A sort keeps the order of equals: laterals are put in that of their ids first, which are slow to compare.
  const order = rowsByText(laterals, "lateral").sort(
    // Two missing scores give NaN here, which passes on to the grades like a tie.
    (a, b) => score[b]! - score[a]! || grades[b]! - grades[a]!,
  );
  const values = new Float64Array(new SharedArrayBuffer(rows * 8));
  for (let place = 0; place < rows; place++) values[order[place]!] = place + 1;
  return { order, rank: { kind: "number", values } };
}

/** Grades are whole, −1 to 5: two of them in one number. */
const GRADES = 8;

const orLast = (grade: number): number => (Number.isNaN(grade) ? -1 : grade);
