import { showCount } from "../quantity/show-quantity.ts";
import type { RiskMatrix } from "../season/risk-matrix.ts";
import { wrap } from "./cell-text.ts";
import { type Line, lineOf, span } from "./line.ts";

const LEVELS = [5, 4, 3, 2, 1] as const;
const FIELD = 8;

/**
 * How many laterals lie in each field of likelihood × consequence, the cursor's own field in brackets. The worst corner is at the top
 * right.
 *
 * @param here levels of the lateral under the cursor; null where it has none
 */
export function riskLines(
  { counts, unplaced }: RiskMatrix,
  here: { readonly id: string; readonly likelihood: number; readonly consequence: number } | null,
  width: number,
): readonly Line[] {
  const cell = (likelihood: number, consequence: number): string => {
    const count = counts[likelihood - 1]![consequence - 1]!;
    const text = count === 0 ? "·" : showCount(count);
    const isHere = here?.likelihood === likelihood && here.consequence === consequence;
    return isHere ? `[${text}]`.padStart(FIELD) : `${text} `.padStart(FIELD);
  };
  const columns = [...LEVELS].reverse();
  const sum = (of: readonly number[]) => of.reduce((total, one) => total + one, 0);
  const rows = LEVELS.map(
    (likelihood): Line => [
      span(`  likelihood ${likelihood}`.padEnd(14), "bold"),
      ...columns.map((consequence) => {
        const isHere = here?.likelihood === likelihood && here.consequence === consequence;
        return span(cell(likelihood, consequence), isHere ? "reverse" : "plain");
      }),
      span(showCount(sum(counts[likelihood - 1]!)).padStart(FIELD), "dim"),
    ],
  );
  const byConsequence = columns.map((level) => sum(counts.map((row) => row[level - 1]!)));
  const foot = (text: string) => wrap(text, width).map((line) => lineOf(line, "dim"));
  return [
    ...rows,
    lineOf(
      `${"  consequence".padEnd(14)}${columns.map((level) => `${level} `.padStart(FIELD)).join("")}`,
      "bold",
    ),
    lineOf(
      `${"  in all".padEnd(14)}${byConsequence.map((count) => `${showCount(count)} `.padStart(FIELD)).join("")}`,
      "dim",
    ),
    lineOf(""),
    ...(unplaced === 0
      ? []
      : foot(
          `${showCount(unplaced)} laterals have no likelihood or no consequence from 1 to 5 and are in no field.`,
        )),
    ...(here === null ? [] : foot(`[ ] the field of ${here.id}, the lateral under the cursor.`)),
    ...foot(
      "Points between two levels count in the nearer one, halves in the worse. The product orders laterals; it is no probability.",
    ),
  ];
}
