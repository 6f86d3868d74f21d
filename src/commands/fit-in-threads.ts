import type { PlanBasis } from "../plan/plan-basis.ts";
import { countRecord, emptyRecord, readRecord } from "../season/city-record.ts";
import { fitProgram, fitRecord } from "../season/fits.ts";
import type { PreparedBasis } from "../season/own-columns.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { dataOf } from "./basis-data.ts";
import type { PlanThread } from "./plan-in-threads.ts";

/** The basis with the city's fits beside it. Where a second thread was started, it reads a part of the city's record. */
export async function fitInThreads<Given extends PreparedBasis>(
  tables: ProgramTables,
  basis: Given,
  second: PlanThread,
): Promise<Given & PlanBasis> {
  if (!second.isWorking) return fitProgram(tables, basis);
  const rows = emptyRecord(tables.laterals.rows);
  const beside = second.ask({ kind: "read record", tables, basis: dataOf(basis), rows });
  readRecord(tables, basis, rows);
  const done = await beside;
  if (done.kind !== "read record") throw new RangeError(`fitInThreads: the second thread ${done.kind}`);
  return { ...basis, fits: fitRecord(countRecord(rows, basis), basis) };
}
