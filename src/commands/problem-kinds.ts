import type { Problem } from "../quantity/problem.ts";

/** Problems of one column that expect the same, told once. */
export interface ProblemKind extends Pick<Problem, "file" | "column" | "severity" | "expected"> {
  readonly times: number;
  /** What was found, each once, the most frequent first. */
  readonly found: readonly string[];
}

/** The kinds of problem there are, the most frequent first: a word that a city writes in every row is one thing to mend. */
export function problemKinds(problems: readonly Problem[]): readonly ProblemKind[] {
  const kinds = new Map<string, { readonly first: Problem; readonly found: Map<string, number> }>();
  for (const problem of problems) {
    const { file, column, severity, expected, found } = problem;
    const key = JSON.stringify([file, column, severity, expected]);
    const kind = kinds.get(key) ?? { first: problem, found: new Map<string, number>() };
    kinds.set(key, kind);
    kind.found.set(found, (kind.found.get(found) ?? 0) + 1);
  }
  return [...kinds.values()]
    .map(({ first: { file, column, severity, expected }, found }) => ({
      ...{ file, column, severity, expected },
      times: [...found.values()].reduce((a, b) => a + b, 0),
      found: [...found].sort((a, b) => b[1] - a[1]).map(([text]) => text),
    }))
    .sort((a, b) => b.times - a.times);
}

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
