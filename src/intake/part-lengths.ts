import type { Decisions } from "../columns/decided.ts";
import type { Problem } from "../quantity/problem.ts";
import { numberAt, numbersOf, type Table, textAt } from "../sheet/table.ts";
import { ProblemList } from "./cell-problem.ts";
import { FILE_ROW } from "./row-columns.ts";

/** How far the parts may be from the whole: 1 % of it, and two lengths rounded to a tenth of a foot. Ours, no source. */
const PART_TOLERANCE = 0.01;
const ROUNDING = 0.05;

/** Columns that may be decided and are held against each other here. */
export const partKeys: readonly string[] = ["host_length", "lower_length", "upper_length"];

const THE_WHOLE = "the length of the lateral, ";
const AFTER_SIGNING = "an end on or after the day it was signed";

/** Whether a problem is one that {@link checkParts} found: another decision may have mended it. */
export const isOfParts = ({ column, expected }: Problem): boolean =>
  column === null && (expected.startsWith(THE_WHOLE) || expected === AFTER_SIGNING);

/**
 * Says where the lengths of the parts do not add up to the length of the lateral, or a permission ends before it was signed: by row of the
 * city's file, or, where somebody decided one of the lengths, of the lateral in the log. Nothing is changed: which of the values is wrong,
 * only the city can know.
 *
 * @param table the city's columns with the decisions over them
 */
export function checkParts(
  table: Table,
  decisions: Decisions,
  { laterals, log }: { readonly laterals: string; readonly log: string },
): readonly Problem[] {
  const inFile = new ProblemList(laterals);
  const inLog = new ProblemList(log);
  const wholes = numbersOf(table, "host_length");
  const lowers = numbersOf(table, "lower_length");
  const uppers = numbersOf(table, "upper_length");
  const signedOn = numbersOf(table, "permission_signed");
  const expiresOn = numbersOf(table, "permission_expires");
  const noteLengths = (row: number, { found, expected }: Pick<Problem, "found" | "expected">) => {
    const id = textAt(table, "lateral", row);
    const decided = decisions.get(id);
    const remedy = "All three are used as they are: correct the one that is wrong.";
    if (partKeys.some((key) => decided?.has(key) === true))
      inLog.add("noted", null, null, `lateral ${id}: ${found}`, expected, remedy);
    else inFile.add("noted", numberAt(table, FILE_ROW, row), null, found, expected, remedy);
  };
  for (let row = 0; row < table.rows; row++) {
    const whole = wholes[row]!;
    const lower = lowers[row]!;
    const upper = uppers[row]!;
    const sum = lower + upper;
    if (Math.abs(sum - whole) > PART_TOLERANCE * whole + ROUNDING)
      noteLengths(row, {
        found: `lower ${lower.toFixed(2)} m + upper ${upper.toFixed(2)} m = ${sum.toFixed(2)} m`,
        expected: `${THE_WHOLE}${whole.toFixed(2)} m`,
      });
    if (expiresOn[row]! < signedOn[row]!)
      inFile.add(
        "noted",
        numberAt(table, FILE_ROW, row),
        null,
        "a permission that ends before it was signed",
        AFTER_SIGNING,
        "It counts as expired: correct the dates.",
      );
  }
  return [...inFile.finish(), ...inLog.finish()];
}
