import type { Decisions } from "../columns/decided.ts";
import { isoDate } from "../quantity/calendar.ts";
import type { Problem } from "../quantity/problem.ts";
import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import type { Day } from "../quantity/si.ts";
import { plausibility } from "../reference/plausibility.ts";
import { numbersOf, type Table } from "../sheet/table.ts";
import { type ValueFiles, ValueProblems } from "./value-problems.ts";

/** Surveys by lateral: those of lateral row r are rows `first[r]` up to, not including, `first[r + 1]`. */
export interface SurveysByLateral {
  readonly table: Table;
  readonly first: Uint32Array;
}

/**
 * Says where a lateral is wider than its main, or a survey saw far more of it than there is: limits of shared/plausibility.json.
 *
 * @param table the city's columns with the decisions over them
 */
export function checkSizes(
  table: Table,
  { table: surveys, first }: SurveysByLateral,
  decisions: Decisions,
  files: ValueFiles,
  style: NumberStyle,
): readonly Problem[] {
  const { share, beyond_m: beyond } = plausibility.surveyed_over_length;
  const problems = new ValueProblems(table, decisions, files);
  const hosts = numbersOf(table, "host_diameter");
  const mains = numbersOf(table, "main_diameter");
  const lengths = numbersOf(table, "host_length");
  const seen = numbersOf(surveys, "surveyed_length");
  const on = numbersOf(surveys, "inspected_on");
  for (let row = 0; row < table.rows; row++) {
    const host = hosts[row]!;
    const main = mains[row]!;
    if (host > main)
      problems.note(
        row,
        ["host_diameter", "main_diameter"],
        `a lateral of ${showQuantity(host, "diameter", style)} on a main of ${showQuantity(main, "diameter", style)}`,
        "a lateral no wider than its main",
        "Both are used as they are: look whether one of them is wrong, or in another unit.",
      );
    const length = lengths[row]!;
    const most = Math.max(share * length, length + beyond);
    for (let i = first[row]!; i < first[row + 1]!; i++)
      if (seen[i]! > most)
        problems.note(
          row,
          ["host_length"],
          `${showQuantity(seen[i]!, "length", style)} surveyed on ${isoDate(on[i]! as Day)}`,
          `about the length of the lateral, ${showQuantity(length, "length", style)}, or less`,
          "Both are used as they are: correct the length, or look whether the survey is of another pipe or of more than one.",
        );
  }
  return problems.finish();
}
