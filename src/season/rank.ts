import { type NumberColumn, numberAt, type Table, textAt } from "../sheet/table.ts";

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
  const score = new Float64Array(rows);
  const structural = new Float64Array(rows);
  const om = new Float64Array(rows);
  const ids: string[] = new Array(rows);
  for (let row = 0; row < rows; row++) {
    const risk = numberAt(laterals, "risk", row);
    score[row] = Number.isNaN(risk) ? Number.NEGATIVE_INFINITY : scoreInSteps(risk);
    structural[row] = orLast(numberAt(laterals, "structural_grade", row));
    om[row] = orLast(numberAt(laterals, "om_grade", row));
    ids[row] = textAt(laterals, "lateral", row);
  }
  const order = Uint32Array.from({ length: rows }, (_, row) => row).sort(
    (a, b) =>
      // Two missing scores give NaN here, which passes on to the grades like a tie.
      score[b]! - score[a]! ||
      structural[b]! - structural[a]! ||
      om[b]! - om[a]! ||
      (ids[a]! < ids[b]! ? -1 : ids[a] === ids[b] ? 0 : 1),
  );
  const values = new Float64Array(new SharedArrayBuffer(rows * 8));
  for (let place = 0; place < rows; place++) values[order[place]!] = place + 1;
  return { order, rank: { kind: "number", values } };
}

const orLast = (grade: number): number => (Number.isNaN(grade) ? -1 : grade);
