import { bothFits } from "../cohort/city-fits.ts";
import type { PlanBasis } from "../plan/plan-basis.ts";
import { emptyRecord, readRecord } from "../season/city-record.ts";
import { fitProgram, gradeFits } from "../season/fits.ts";
import type { PreparedBasis } from "../season/own-columns.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { dataOf } from "./basis-data.ts";
import type { PlanThread } from "./plan-thread.ts";

/**
 * The basis with the city's fits beside it. Where a second thread was started, it reads a part of the city's record, and then fits what its
 * backups say while this one fits what its surveys say: half of the work each.
 */
export async function fitInThreads<Given extends PreparedBasis>(
  tables: ProgramTables,
  basis: Given,
  second: PlanThread,
): Promise<Given & PlanBasis> {
  if (!second.isWorking) return fitProgram(tables, basis);
  const rows = emptyRecord(tables.laterals.rows);
  const reading = second.ask({ kind: "read record", tables, basis: dataOf(basis), rows });
  readRecord(tables, basis, rows);
  const read = await reading;
  if (read.kind !== "read record") throw new RangeError(`fitInThreads: the second thread ${read.kind}`);
  const fitting = second.ask({ kind: "fit blockages", rows, basis: dataOf(basis) });
  const ofGrades = gradeFits(rows, basis);
  const fitted = await fitting;
  if (fitted.kind !== "fit blockages") throw new RangeError(`fitInThreads: the second thread ${fitted.kind}`);
  return { ...basis, fits: bothFits(ofGrades, fitted.fits) };
}
