import type { Problem } from "./problem.ts";

/** One problem, and the rows that have it. */
export interface RepeatedProblem {
  readonly problem: Problem;
  /** Ascending; empty for a problem of the file. */
  readonly rows: readonly number[];
}

/** The problems, those told together that differ in nothing but the row: a word that nobody knows stands in a thousand cells. */
export function repeatedProblems(problems: readonly Problem[]): readonly RepeatedProblem[] {
  const byText = new Map<string, { readonly problem: Problem; readonly rows: number[] }>();
  for (const problem of problems) {
    const { row, lateral: _, ...same } = problem;
    const key = JSON.stringify(row === null ? [problem] : same);
    let repeated = byText.get(key);
    if (repeated === undefined) {
      repeated = { problem, rows: [] };
      byText.set(key, repeated);
    }
    if (row !== null) repeated.rows.push(row);
  }
  return [...byText.values()];
}
