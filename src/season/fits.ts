import { type BlockageFits, fitBlocking } from "../cohort/blockage-tables.ts";
import {
  type CityFits,
  type CityRecord,
  type FitTables,
  fitCity,
  fitGrades,
  type GradeFits,
} from "../cohort/city-fits.ts";
import { hostMaterials } from "../columns/lateral-columns.ts";
import { networkWear } from "../plan/failure.ts";
import type { PlanBasis } from "../plan/plan-basis.ts";
import type { Basis } from "../reference/basis.ts";
import { countGrades, emptyRecord, listBlockages, type RecordRows, readRecord } from "./city-record.ts";
import type { PreparedBasis } from "./own-columns.ts";
import type { ProgramTables } from "./program-tables.ts";

/** A prepared basis with the fits to the whole city: what a program is planned with. */
export type FittedBasis = PreparedBasis & PlanBasis;

/** The basis with the city's own fits beside it: what a lateral is planned with. */
export const fitProgram = <Given extends PreparedBasis>(
  tables: ProgramTables,
  basis: Given,
): Given & PlanBasis => ({
  ...basis,
  fits: fitRecord(gatherRecord(tables, basis), basis),
});

/** Fits of a record with the basis' tables. */
export const fitRecord = (record: CityRecord, basis: Basis): CityFits => fitCity(record, fitTables(basis));

/** The half of {@link fitRecord} that surveys and census say; the other is {@link blockageFits}. Two threads do one each. */
export const gradeFits = (rows: RecordRows, basis: Basis): GradeFits =>
  fitGrades(countGrades(rows, basis), fitTables(basis));
/** The half of it that the record of backups says. */
export const blockageFits = (rows: RecordRows, basis: Basis): BlockageFits =>
  fitBlocking(listBlockages(rows, basis), fitTables(basis));

const fitTables = (basis: Basis): FitTables => ({
  ...basis.failureModes,
  wear: networkWear(basis),
  eraStarts: basis.deterioration.eraStarts.value,
  assumedLife: basis.deterioration.assumedLife,
  materials: hostMaterials,
});

/** The city's surveys, census and blockages, decisions over the city's values, as of the program's day. */
export function gatherRecord(tables: ProgramTables, basis: Basis): CityRecord {
  const rows = emptyRecord(tables.laterals.rows);
  readRecord(tables, basis, rows);
  return { ...countGrades(rows, basis), blockages: listBlockages(rows, basis) };
}
