import { checkCrossBores } from "../intake/cross-bore-found.ts";
import { checkSizes } from "../intake/implausible.ts";
import { checkParts, partKeys } from "../intake/part-lengths.ts";
import { DECISIONS_FILE } from "../program/program-files.ts";
import type { Problem } from "../quantity/problem.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import { withDecisions } from "../season/decided-columns.ts";
import type { ProgramTables } from "../season/program-tables.ts";

/** Columns whose decided values may be at odds with others, or have to be told to somebody. */
export const checkedKeys: readonly string[] = [...partKeys, "cross_bore", "host_diameter", "main_diameter"];

/** What is wrong between the values of a lateral as they are planned with, the decided ones among them; what cannot wait first. */
export function valueProblems(
  tables: Pick<ProgramTables, "laterals" | "decisions" | "inspections" | "firstInspection">,
  lateralFile: string,
  style: NumberStyle,
): readonly Problem[] {
  const { decisions, inspections, firstInspection } = tables;
  const laterals = withDecisions(tables.laterals, decisions);
  const files = { laterals: lateralFile, log: DECISIONS_FILE };
  return [
    ...checkCrossBores(laterals, decisions, files),
    ...checkParts(laterals, decisions, files, style),
    ...checkSizes(laterals, { table: inspections, first: firstInspection }, decisions, files, style),
  ];
}
