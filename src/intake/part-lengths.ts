import type { Decisions } from "../columns/decided.ts";
import type { Problem } from "../quantity/problem.ts";
import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import { numberAt, numbersOf, type Table, textAt } from "../sheet/table.ts";
import { ProblemList } from "./cell-problem.ts";
import { FILE_ROW } from "./row-columns.ts";

/** How far the parts may be from the whole: 1 % of it, and two lengths rounded to a tenth of a foot. Ours, no source. */
const PART_TOLERANCE = 0.01;
const ROUNDING = 0.05;

/** Columns that may be decided and are held against each other here. */
export const partKeys: readonly string[] = ["host_length", "lower_length", "upper_length"];

/** Whether a problem is one that {@link checkParts} found: another decision may have mended it. */
export const isOfParts = ({ lateral }: Problem): boolean => lateral !== undefined;

/**
 * Says where the lengths of the parts do not add up to the length of the lateral, or a permission ends before it was signed: by row of the
 * city's file, or, where somebody decided one of the lengths, of the lateral in the log. Nothing is changed: which of the values is wrong,
 * only the city can know.
 *
 * @param table the city's columns with the decisions over them
 * @param style how the lengths are written
 */
export function checkParts(
  table: Table,
  decisions: Decisions,
  { laterals, log }: { readonly laterals: string; readonly log: string },
  style: NumberStyle,
): readonly Problem[] {
  const inFile = new ProblemList(laterals);
  const inLog = new ProblemList(log);
  const wholes = numbersOf(table, "host_length");
  const lowers = numbersOf(table, "lower_length");
  const uppers = numbersOf(table, "upper_length");
  const signedOn = numbersOf(table, "permission_signed");
  const expiresOn = numbersOf(table, "permission_expires");
  const shown = (length: number) => showQuantity(length, "length", style);
  const note = (
    row: number,
    decidable: readonly string[],
    found: string,
    expected: string,
    remedy: string,
  ) => {
    const id = textAt(table, "lateral", row);
    const decided = decisions.get(id);
    if (decidable.some((key) => decided?.has(key) === true))
      inLog.add("noted", null, null, found, expected, remedy, id);
    else inFile.add("noted", numberAt(table, FILE_ROW, row), null, found, expected, remedy, id);
  };
  for (let row = 0; row < table.rows; row++) {
    const whole = wholes[row]!;
    const lower = lowers[row]!;
    const upper = uppers[row]!;
    const sum = lower + upper;
    if (Math.abs(sum - whole) > PART_TOLERANCE * whole + ROUNDING)
      note(
        row,
        partKeys,
        `lower ${shown(lower)} + upper ${shown(upper)} = ${shown(sum)}`,
        `the length of the lateral, ${shown(whole)}`,
        "All three are used as they are: correct the one that is wrong.",
      );
    if (expiresOn[row]! < signedOn[row]!)
      note(
        row,
        [],
        "a permission that ends before it was signed",
        "an end on or after the day it was signed",
        "It counts as expired: correct the dates.",
      );
  }
  return [...inFile.finish(), ...inLog.finish()];
}
