import { checkParts } from "../intake/part-lengths.ts";
import { DECISIONS_FILE } from "../program/program-files.ts";
import type { Problem } from "../quantity/problem.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import { withDecisions } from "../season/decided-columns.ts";
import type { ProgramTables } from "../season/program-tables.ts";

/** What is wrong between the values of a lateral as they are planned with, the decided ones among them. */
export const partProblems = (
  { laterals, decisions }: Pick<ProgramTables, "laterals" | "decisions">,
  lateralFile: string,
  style: NumberStyle,
): readonly Problem[] =>
  checkParts(
    withDecisions(laterals, decisions),
    decisions,
    { laterals: lateralFile, log: DECISIONS_FILE },
    style,
  );
