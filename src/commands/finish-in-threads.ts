import type { FittedBasis } from "../season/fits.ts";
import type { PlannedSheet } from "../season/plan-sheet.ts";
import { finishProgram, type PlannedProgram, totalSheet } from "../season/planned-program.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import type { PlanThread } from "./plan-in-threads.ts";

/** Ranks and totals a planned sheet. Where a second thread was started, it ranks while this one totals. */
export async function finishInThreads(
  tables: ProgramTables,
  basis: FittedBasis,
  sheet: PlannedSheet,
  found: Pick<PlannedProgram, "problems" | "tallies">,
  second: PlanThread,
): Promise<PlannedProgram> {
  if (!second.isWorking) return finishProgram(tables, basis, sheet, found);
  const beside = second.ask({ kind: "rank", laterals: sheet.laterals });
  const totalled = totalSheet(sheet, basis);
  const done = await beside;
  if (done.kind !== "rank") throw new RangeError(`finishInThreads: the second thread ${done.kind}`);
  return finishProgram(tables, basis, sheet, found, done.ranking, totalled);
}
