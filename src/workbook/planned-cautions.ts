import { treatmentKinds } from "../columns/plan-columns.ts";
import { type Caution, cautionsFor } from "../reference/cautions.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { codesOf, type Table } from "../sheet/table.ts";

/** The cautions for the treatments that are planned, and for what was found and cannot wait. */
export const plannedCautions = ({ totals, laterals }: PlannedProgram): readonly Caution[] =>
  cautionsFor(
    new Set(treatmentKinds.filter((kind) => totals.program.byTreatment[kind] > 0)),
    countCrossBores(laterals),
  );

/** Laterals that a utility's line was found bored through, and that are not recorded as made safe. */
export function countCrossBores(laterals: Table): number {
  const { codes, words } = codesOf(laterals, "cross_bore");
  const found = words.indexOf("found", 1);
  if (found < 0) return 0;
  let count = 0;
  for (const code of codes) if (code === found) count++;
  return count;
}
