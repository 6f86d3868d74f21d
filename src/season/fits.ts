import { type CityFits, type CityRecord, fitCity } from "../cohort/city-fits.ts";
import { hostMaterials } from "../columns/lateral-columns.ts";
import { networkWear } from "../plan/failure.ts";
import type { PlanBasis } from "../plan/plan-basis.ts";
import type { Basis } from "../reference/basis.ts";
import { countRecord, emptyRecord, readRecord } from "./city-record.ts";
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
export function fitRecord(record: CityRecord, basis: Basis): CityFits {
  const { failureModes, deterioration } = basis;
  return fitCity(record, {
    ...failureModes,
    wear: networkWear(basis),
    eraStarts: deterioration.eraStarts.value,
    assumedLife: deterioration.assumedLife,
    materials: hostMaterials,
  });
}

/** The city's surveys, blockages and census, decisions over the city's values, as of the program's day. */
export function gatherRecord(tables: ProgramTables, basis: Basis): CityRecord {
  const rows = emptyRecord(tables.laterals.rows);
  readRecord(tables, basis, rows);
  return countRecord(rows, basis);
}
