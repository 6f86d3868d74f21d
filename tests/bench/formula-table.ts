import { plainTable } from "../../src/commands/plain-table.ts";
import { benchFormula } from "./formula-bench.ts";

/** Formulas, each beside a loop written by hand and beside the evaluator of mathjs. */
export function formulaTable(): string {
  const nanoseconds = (value: number) => value.toFixed(1);
  const right = (heading: string) => ({ heading, align: "right" as const });
  return plainTable(
    [
      { heading: "ns a row, best of several", align: "left" },
      right("By hand"),
      right("Column form"),
      right("× by hand"),
      right("Record form"),
      right("mathjs, fastest"),
      right("mathjs, Map"),
      right("mathjs, whole"),
      right("× fastest"),
      right("× whole"),
      right("Rows that differ"),
    ],
    benchFormula().map((row) => [
      row.expression.length > 40 ? `${row.expression.slice(0, 39)}…` : row.expression,
      nanoseconds(row.handWritten),
      nanoseconds(row.columnForm),
      (row.columnForm / row.handWritten).toFixed(1),
      nanoseconds(row.recordForm),
      nanoseconds(row.mathjs),
      nanoseconds(row.mathjsMap),
      nanoseconds(row.mathjsFull),
      (Math.min(row.mathjs, row.mathjsMap) / row.columnForm).toFixed(1),
      (row.mathjsFull / row.columnForm).toFixed(1),
      String(row.differences),
    ]),
  );
}
