import { describeInRows, type Problem } from "../quantity/problem.ts";
import { repeatedProblems } from "../quantity/repeated-problems.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { RowTally } from "../season/planned-program.ts";
import { wrap } from "./cell-text.ts";
import { type Line, lineOf, span } from "./line.ts";
import type { PaneLink } from "./sheet-view.ts";

/** How every row of the city's files is accounted for, then what was found in them: once for the rows that share it, a link to the first. */
export function problemLines(
  problems: readonly Problem[],
  tallies: readonly RowTally[],
  rowOf: (problem: Problem) => number | null,
  width: number,
): { readonly lines: readonly Line[]; readonly links: readonly PaneLink[] } {
  const lines: Line[] = [
    ...tallies.flatMap((tally) => wrap(describeTally(tally), width).map((text) => lineOf(text))),
    lineOf(""),
    ...(problems.length === 0 ? [lineOf("No problems found in the program's files.")] : []),
  ];
  const links: PaneLink[] = [];
  for (const { problem, rows } of repeatedProblems(problems)) {
    const row = rowOf(problem);
    const notice = describeInRows(problem, rows);
    if (row !== null) links.push({ line: lines.length, to: { kind: "lateral", row, notice } });
    lines.push(...oneProblem(problem.severity, notice, width));
  }
  return { lines, links };
}

function describeTally({ file, read, kept, duplicates, rejected }: RowTally): string {
  return `${file}: ${showCount(read)} rows read = ${showCount(kept)} kept + ${showCount(duplicates)} duplicates + ${showCount(rejected)} rejected`;
}

const SEVERITY_WIDTH = "  rejected ".length;

function oneProblem(severity: Problem["severity"], said: string, width: number): readonly Line[] {
  return wrap(said, width - SEVERITY_WIDTH).map((text, i) => [
    i === 0 ? span(`  ${severity}`.padEnd(SEVERITY_WIDTH), "bold") : span(" ".repeat(SEVERITY_WIDTH)),
    span(text),
  ]);
}
