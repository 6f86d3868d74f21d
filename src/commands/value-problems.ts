import { checkCrossBores } from "../intake/cross-bore-found.ts";
import { checkSizes } from "../intake/implausible.ts";
import { checkParts, partKeys } from "../intake/part-lengths.ts";
import { isOfValues } from "../intake/value-problems.ts";
import { DECISIONS_FILE } from "../program/program-files.ts";
import type { Problem } from "../quantity/problem.ts";
import type { Basis } from "../reference/basis.ts";
import { withDecisions } from "../season/decided-columns.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { idleMainProblems, isOfIdleMain } from "./season-names.ts";

/** Columns whose decided values may be at odds with others, or have to be told to somebody. */
export const checkedKeys: readonly string[] = [...partKeys, "cross_bore", "host_diameter", "main_diameter"];

/** What is wrong with the values of laterals as they are planned with, the decided ones among them: what cannot wait, which is told first, and the rest. */
export function valueProblems(
  tables: ProgramTables,
  lateralFile: string,
  basis: Pick<Basis, "program" | "mainsLined">,
): { readonly urgent: readonly Problem[]; readonly waiting: readonly Problem[] } {
  const { decisions, inspections, firstInspection } = tables;
  const laterals = withDecisions(tables.laterals, decisions);
  const files = { laterals: lateralFile, log: DECISIONS_FILE };
  const surveys = { table: inspections, first: firstInspection };
  return {
    urgent: checkCrossBores(laterals, decisions, files),
    waiting: [
      ...checkParts(laterals, decisions, files, basis.program),
      ...checkSizes(laterals, surveys, decisions, files, basis.program),
      ...idleMainProblems({ laterals, basis }),
    ],
  };
}

/** Whether {@link valueProblems} finds a problem anew: a decision may have mended it. */
export const isFoundAnew = (problem: Problem): boolean => isOfValues(problem) || isOfIdleMain(problem);
