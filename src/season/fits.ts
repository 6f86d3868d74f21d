import type { BlockageSeen } from "../cohort/blockage-cohorts.ts";
import {
  BACKUP_RECORD_YEARS,
  type CityFits,
  type CityRecord,
  fitCity,
  groupKey,
  type LateralGroup,
} from "../cohort/city-fits.ts";
import type { SeenLateral } from "../cohort/cohort-lives.ts";
import { hostMaterials } from "../columns/lateral-columns.ts";
import { readCondition } from "../plan/condition.ts";
import { isWholeGrade, networkWear } from "../plan/failure.ts";
import type { PlanBasis } from "../plan/plan-basis.ts";
import { dateOf } from "../quantity/calendar.ts";
import type { Basis } from "../reference/basis.ts";
import { recordedAt } from "./lateral-at.ts";
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
  const { asOf } = basis.program;
  const { ratePerYear, rateNotGraded } = basis.failureModes.blockage;
  const { poorFrom } = basis.failureModes.reading;
  const { surveyTooOldYears, joinSurveysWithinDays } = basis.treatments.thresholds;
  const asOfYear = dateOf(asOf).year;
  const seen: SeenLateral[] = [];
  const blockages: BlockageSeen[] = [];
  const groups = new Map<string, LateralGroup>();
  for (let row = 0; row < tables.laterals.rows; row++) {
    const lateral = recordedAt(tables, row);
    const condition = readCondition(lateral, asOf, surveyTooOldYears, joinSurveysWithinDays);
    const material = lateral.hostMaterial?.value ?? "";
    const year = lateral.installYear?.value ?? null;
    const grade = condition.structural?.value ?? null;

    // A part of a pipe without a bad grade does not say that the pipe is not bad, so parts count for neither.
    if (condition.state === "surveyed" && condition.leading !== null && grade !== null && year !== null) {
      const age = dateOf(condition.leading.on).year - year;
      // A survey before the pipe was laid is of the pipe before it.
      if (age >= 0) seen.push({ material, installYear: year, age, bad: grade >= poorFrom });
    }
    if (lateral.backups !== null) {
      const om = condition.om?.value ?? null;
      blockages.push({
        material,
        events: lateral.backups.value,
        years: BACKUP_RECORD_YEARS,
        tableRate: om === null ? rateNotGraded : ratePerYear[om]!,
      });
    }
    const kind = {
      grade,
      whole: isWholeGrade(condition),
      material,
      age: year === null ? null : Math.max(0, asOfYear - year),
    };
    const key = groupKey(kind);
    let group = groups.get(key);
    if (group === undefined) {
      group = { ...kind, laterals: 0, diameterLength: 0 };
      groups.set(key, group);
    }
    group.laterals++;
    if (lateral.hostDiameter !== null && lateral.hostLength !== null)
      group.diameterLength += lateral.hostDiameter.value * lateral.hostLength.value;
  }
  return { asOfYear, seen, blockages, groups: [...groups.values()] };
}
