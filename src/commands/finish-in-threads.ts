import { batchByDistrict } from "../season/batches.ts";
import type { FittedBasis } from "../season/fits.ts";
import { isRankRead } from "../season/own-columns.ts";
import { joinBlocks, type PlannedBlocks } from "../season/plan-blocks.ts";
import { sheetLaterals } from "../season/plan-tables.ts";
import { finishProgram, type PlannedProgram, totalSheet } from "../season/planned-program.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { finishTotals, totalByDistrict } from "../season/totals.ts";
import type { PlanThread } from "./plan-thread.ts";

/**
 * Joins, ranks and totals what was planned. Where a second thread was started, it ranks while this one does all else, or ranks too where that
 * fails. A plan for totals is not ranked unless a formula reads the rank: then the second thread sums the laterals.
 */
export async function finishInThreads(
  tables: ProgramTables,
  basis: FittedBasis,
  planned: PlannedBlocks,
  found: Pick<PlannedProgram, "problems" | "tallies">,
  second: PlanThread,
): Promise<PlannedProgram> {
  const { wanted, tables: written } = planned.plan;
  if (wanted === "everything" || isRankRead(basis)) {
    const ranking = second.isWorking
      ? second.doneBeside({ kind: "rank", laterals: sheetLaterals(tables, written) })
      : null;
    const sheet = joinBlocks(tables, planned);
    const totalled = totalSheet(sheet, basis);
    return finishProgram(tables, basis, sheet, found, (await ranking)?.ranking, totalled);
  }
  const { laterals } = tables;
  const { program } = basis;
  const summing = second.isWorking
    ? second.doneBeside({ kind: "sum", written, laterals, basis: { program } })
    : null;
  const sheet = joinBlocks(tables, planned);
  const batches = batchByDistrict(sheet, basis);
  const sums = (await summing)?.sums;
  const totals = sums === undefined ? totalByDistrict(sheet, basis) : finishTotals(sums, sheet);
  return finishProgram(tables, basis, sheet, found, null, { totals, batches });
}
