import type { PlanBasis } from "../plan/plan-basis.ts";
import { countRecord, emptyRecord, readRecord } from "../season/city-record.ts";
import { fitProgram, fitRecord } from "../season/fits.ts";
import type { PreparedBasis } from "../season/own-columns.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { dataOf } from "./basis-data.ts";
import type { PlanThread } from "./plan-thread.ts";

/** What is known of a whole city before its laterals are planned. */
export interface KnownAhead<Given> {
  /** The basis with the city's fits beside it. */
  readonly basis: Given & PlanBasis;
  /** Rows in the order of their ids; undefined without a second thread. */
  readonly byId: Uint32Array | undefined;
}

/**
 * Fits the city. Where a second thread was started, it reads a part of the city's record; and while this one fits, it puts ids in order: half
 * of the ranking, for which this thread waited at the end.
 */
export async function fitInThreads<Given extends PreparedBasis>(
  tables: ProgramTables,
  basis: Given,
  second: PlanThread,
): Promise<KnownAhead<Given>> {
  if (!second.isWorking) return { basis: fitProgram(tables, basis), byId: undefined };
  const rows = emptyRecord(tables.laterals.rows);
  const beside = second.ask({ kind: "read record", tables, basis: dataOf(basis), rows });
  readRecord(tables, basis, rows);
  const done = await beside;
  if (done.kind !== "read record") throw new RangeError(`fitInThreads: the second thread ${done.kind}`);
  const sorting = second.ask({ kind: "order by id", laterals: tables.laterals });
  const fits = fitRecord(countRecord(rows, basis), basis);
  const sorted = await sorting;
  if (sorted.kind !== "order by id") throw new RangeError(`fitInThreads: the second thread ${sorted.kind}`);
  return { basis: { ...basis, fits }, byId: sorted.byId };
}
