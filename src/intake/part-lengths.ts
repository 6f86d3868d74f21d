import { numberAt, type Table } from "../sheet/table.ts";
import type { ProblemList } from "./cell-problem.ts";
import { FILE_ROW } from "./row-columns.ts";

/** How far the parts may be from the whole: 1 % of it, and two lengths rounded to a tenth of a foot. Ours, no source. */
const PART_TOLERANCE = 0.01;
const ROUNDING = 0.05;

/**
 * Says where the lengths of the parts do not add up to the length of the lateral, or a permission ends before it was
 * signed. Nothing is changed: which of the values is wrong, only the city can know.
 */
export function checkParts(table: Table, problems: ProblemList): void {
  for (let row = 0; row < table.rows; row++) {
    const [whole, lower, upper] = (["host_length", "lower_length", "upper_length"] as const).map((key) =>
      numberAt(table, key, row),
    ) as [number, number, number];
    const at = numberAt(table, FILE_ROW, row);
    const sum = lower + upper;
    if (Math.abs(sum - whole) > PART_TOLERANCE * whole + ROUNDING)
      problems.add(
        "noted",
        at,
        null,
        `lower ${lower.toFixed(2)} m + upper ${upper.toFixed(2)} m = ${sum.toFixed(2)} m`,
        `the length of the lateral, ${whole.toFixed(2)} m`,
        "All three are used as they are: correct the one that is wrong.",
      );
    const signed = numberAt(table, "permission_signed", row);
    if (numberAt(table, "permission_expires", row) < signed)
      problems.add(
        "noted",
        at,
        null,
        "a permission that ends before it was signed",
        "an end on or after the day it was signed",
        "It counts as expired: correct the dates.",
      );
  }
}
