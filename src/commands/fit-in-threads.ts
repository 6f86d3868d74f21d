import { bothFits } from "../cohort/city-fits.ts";
import type { PlanBasis } from "../plan/plan-basis.ts";
import { emptyRecord, readRecord } from "../season/city-record.ts";
import { blockageFits, fitProgram, gradeFits } from "../season/fits.ts";
import type { PreparedBasis } from "../season/own-columns.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { dataOf } from "./basis-data.ts";
import type { PlanThread } from "./plan-thread.ts";

/**
 * The basis with the city's fits beside it. Where a second thread was started, it reads a part of the city's record, and then fits what its
 * backups say while this one fits what its surveys say: half of the work each. What it fails at is done here.
 */
export async function fitInThreads<Given extends PreparedBasis>(
  tables: ProgramTables,
  basis: Given,
  second: PlanThread,
): Promise<Given & PlanBasis> {
  if (!second.isWorking) return fitProgram(tables, basis);
  const rows = emptyRecord(tables.laterals.rows);
  const reading = second.doneBeside({ kind: "read record", tables, basis: dataOf(basis), rows });
  readRecord(tables, basis, rows);
  // Rows that a failed thread had taken nobody has read, and which they are is not known: all are read anew.
  if ((await reading) === null) return fitProgram(tables, basis);
  const fitting = second.doneBeside({ kind: "fit blockages", rows, basis: dataOf(basis) });
  const ofGrades = gradeFits(rows, basis);
  const ofBlockages = (await fitting)?.fits ?? blockageFits(rows, basis);
  return { ...basis, fits: bothFits(ofGrades, ofBlockages) };
}
