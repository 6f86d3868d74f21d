import type { ExplainedStage } from "../plan/explain.ts";
import { line } from "../plan/explained-line.ts";
import type { ReadValue } from "../plan/recipe.ts";
import { showNumber, showQuantity } from "../quantity/show-quantity.ts";
import { finite, type PreparedBasis } from "../season/own-columns.ts";

/** What the program's own columns and filters say of one lateral; nothing where it has none. */
export function explainOwnColumns(read: ReadValue, basis: PreparedBasis): readonly ExplainedStage[] {
  const { ownColumns, filters } = basis;
  if (ownColumns.length + filters.length === 0) return [];
  // Each column follows those it reads, so one pass fills them all.
  const values = new Map<string, number>();
  const all: ReadValue = (key) => values.get(key) ?? read(key);
  for (const { column, evaluate } of ownColumns) values.set(column.key, finite(evaluate(all)));
  // Of a lateral that was planned alone the rank is not known, and what is ranked by it neither.
  const alone = (reads: readonly string[]) =>
    reads.includes("rank") && Number.isNaN(read("rank")) ? "needs the rank among all laterals" : null;
  return [
    {
      stage: "The program's own columns and filters",
      lines: [
        ...ownColumns.map(({ column, text, reads }) => {
          const shown = showQuantity(values.get(column.key) ?? Number.NaN, column.measure, basis.program);
          return line(column.key, alone(reads) ?? (shown === "" ? "missing" : shown), null, text);
        }),
        ...filters.map(({ name, text, reads, evaluate }) => {
          const answer = evaluate(all);
          const shown = Number.isNaN(answer) ? "unknown" : showNumber(answer, "flag", basis.program);
          return line(`filter "${name}"`, alone(reads) ?? shown, null, text);
        }),
      ],
    },
  ];
}
