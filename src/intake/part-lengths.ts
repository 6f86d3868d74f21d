import { numbersOf, type Table } from "../sheet/table.ts";
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
  const wholes = numbersOf(table, "host_length");
  const lowers = numbersOf(table, "lower_length");
  const uppers = numbersOf(table, "upper_length");
  const signedOn = numbersOf(table, "permission_signed");
  const expiresOn = numbersOf(table, "permission_expires");
  const fileRows = numbersOf(table, FILE_ROW);
  for (let row = 0; row < table.rows; row++) {
    const whole = wholes[row]!;
    const lower = lowers[row]!;
    const upper = uppers[row]!;
    const sum = lower + upper;
    if (Math.abs(sum - whole) > PART_TOLERANCE * whole + ROUNDING)
      problems.add(
        "noted",
        fileRows[row]!,
        null,
        `lower ${lower.toFixed(2)} m + upper ${upper.toFixed(2)} m = ${sum.toFixed(2)} m`,
        `the length of the lateral, ${whole.toFixed(2)} m`,
        "All three are used as they are: correct the one that is wrong.",
      );
    if (expiresOn[row]! < signedOn[row]!)
      problems.add(
        "noted",
        fileRows[row]!,
        null,
        "a permission that ends before it was signed",
        "an end on or after the day it was signed",
        "It counts as expired: correct the dates.",
      );
  }
}
