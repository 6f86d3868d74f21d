import type { Problem } from "../quantity/problem.ts";

/** Problems of one column that expect the same, told once. */
export interface ProblemKind extends Pick<Problem, "file" | "column" | "severity"> {
  /** Where they expect the same but for a number, `the length of the lateral, … m`. */
  readonly expected: string;
  readonly times: number;
  /** What was found, each once, the most frequent first. */
  readonly found: readonly string[];
}

/** The kinds of problem there are, the most frequent first: a word that a city writes in every row is one thing to mend. */
export function problemKinds(problems: readonly Problem[]): readonly ProblemKind[] {
  const kinds = new Map<
    string,
    { readonly first: Problem; readonly found: Map<string, number>; expected: string }
  >();
  for (const problem of problems) {
    const { file, column, severity, expected, found } = problem;
    const key = JSON.stringify([file, column, severity, withoutNumbers(expected)]);
    const kind = kinds.get(key) ?? { first: problem, found: new Map<string, number>(), expected };
    kinds.set(key, kind);
    if (kind.expected !== expected) kind.expected = withoutNumbers(expected);
    kind.found.set(found, (kind.found.get(found) ?? 0) + 1);
  }
  return [...kinds.values()]
    .map(({ first: { file, column, severity }, expected, found }) => ({
      ...{ file, column, severity, expected },
      times: [...found.values()].reduce((a, b) => a + b, 0),
      found: [...found].sort((a, b) => b[1] - a[1]).map(([text]) => text),
    }))
    .sort((a, b) => b.times - a.times);
}

const withoutNumbers = (text: string): string => text.replace(/\d[\d.,:-]*\d|\d/g, "…");
