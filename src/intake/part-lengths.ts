import type { Decisions } from "../columns/decided.ts";
import type { Problem } from "../quantity/problem.ts";
import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import { numbersOf, type Table } from "../sheet/table.ts";
import { type ValueFiles, ValueProblems } from "./value-problems.ts";

/** How far the parts may be from the whole: 1 % of it, and two lengths rounded to a tenth of a foot. Ours, no source. */
const PART_TOLERANCE = 0.01;
const ROUNDING = 0.05;

/** Columns that may be decided and are held against each other here. */
export const partKeys: readonly string[] = ["host_length", "lower_length", "upper_length"];

/**
 * Says where the lengths of the parts do not add up to the length of the lateral, or a permission ends before it was signed.
 *
 * @param table the city's columns with the decisions over them
 * @param style how the lengths are written
 */
export function checkParts(
  table: Table,
  decisions: Decisions,
  files: ValueFiles,
  style: NumberStyle,
): readonly Problem[] {
  const problems = new ValueProblems(table, decisions, files);
  const wholes = numbersOf(table, "host_length");
  const lowers = numbersOf(table, "lower_length");
  const uppers = numbersOf(table, "upper_length");
  const signedOn = numbersOf(table, "permission_signed");
  const expiresOn = numbersOf(table, "permission_expires");
  const shown = (length: number) => showQuantity(length, "length", style);
  for (let row = 0; row < table.rows; row++) {
    const whole = wholes[row]!;
    const lower = lowers[row]!;
    const upper = uppers[row]!;
    const sum = lower + upper;
    if (Math.abs(sum - whole) > PART_TOLERANCE * whole + ROUNDING)
      problems.note(
        row,
        partKeys,
        `lower ${shown(lower)} + upper ${shown(upper)} = ${shown(sum)}`,
        `the length of the lateral, ${shown(whole)}`,
        "All three are used as they are: correct the one that is wrong.",
      );
    if (expiresOn[row]! < signedOn[row]!)
      problems.note(
        row,
        [],
        "a permission that ends before it was signed",
        "an end on or after the day it was signed",
        "It counts as expired: correct the dates.",
      );
  }
  return problems.finish();
}
