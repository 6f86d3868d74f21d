import {
  BACKUP_RECORD_YEARS,
  type CityFits,
  type CityRecord,
  fitCity,
  type LateralGroup,
} from "../cohort/city-fits.ts";
import type { SeenLaterals } from "../cohort/cohort-lives.ts";
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

/** More than any year, age or difference of years has. */
const YEARS = 4096;
const GRADES = 8;

/** The city's surveys, blockages and census, decisions over the city's values, as of the program's day: counts of laterals alike. */
export function gatherRecord(tables: ProgramTables, basis: Basis): CityRecord {
  const { asOf } = basis.program;
  const { ratePerYear, rateNotGraded } = basis.failureModes.blockage;
  const { poorFrom } = basis.failureModes.reading;
  const { surveyTooOldYears, joinSurveysWithinDays } = basis.treatments.thresholds;
  const asOfYear = dateOf(asOf).year;
  const { rows } = tables.laterals;
  const materials: string[] = [];
  const seen = new Map<number, SeenLaterals>();
  const groups = new Map<number, LateralGroup>();
  const blockages = {
    material: new Uint8Array(rows),
    events: new Float64Array(rows),
    expected: new Float64Array(rows),
  };
  let recorded = 0;
  for (let row = 0; row < rows; row++) {
    const lateral = recordedAt(tables, row);
    const condition = readCondition(lateral, asOf, surveyTooOldYears, joinSurveysWithinDays);
    const material = lateral.hostMaterial?.value ?? "";
    const known = materials.indexOf(material);
    const code = known < 0 ? materials.push(material) - 1 : known;
    const year = lateral.installYear?.value ?? null;
    const grade = condition.structural?.value ?? null;

    // A part of a pipe without a bad grade does not say that the pipe is not bad, so parts count for neither.
    if (condition.state === "surveyed" && condition.leading !== null && grade !== null && year !== null) {
      const age = dateOf(condition.leading.on).year - year;
      // A survey before the pipe was laid is of the pipe before it.
      if (age >= 0) {
        const bad = grade >= poorFrom;
        const alike = ((code * YEARS + year) * YEARS + age) * 2 + Number(bad);
        const found = seen.get(alike);
        if (found === undefined) seen.set(alike, { material, installYear: year, age, bad, laterals: 1 });
        else found.laterals++;
      }
    }
    if (lateral.backups !== null) {
      const om = condition.om?.value ?? null;
      blockages.material[recorded] = code;
      blockages.events[recorded] = lateral.backups.value;
      blockages.expected[recorded] = BACKUP_RECORD_YEARS * (om === null ? rateNotGraded : ratePerYear[om]!);
      recorded++;
    }
    const whole = isWholeGrade(condition);
    const age = year === null ? null : Math.max(0, asOfYear - year);
    const alike = ((code * YEARS + (age ?? YEARS - 1)) * GRADES + (grade ?? GRADES - 1)) * 2 + Number(whole);
    let group = groups.get(alike);
    if (group === undefined) {
      group = { grade, whole, material, age, laterals: 0, diameterLength: 0 };
      groups.set(alike, group);
    }
    group.laterals++;
    if (lateral.hostDiameter !== null && lateral.hostLength !== null)
      group.diameterLength += lateral.hostDiameter.value * lateral.hostLength.value;
  }
  return {
    asOfYear,
    seen: [...seen.values()],
    blockages: {
      materials,
      material: blockages.material.subarray(0, recorded),
      events: blockages.events.subarray(0, recorded),
      expected: blockages.expected.subarray(0, recorded),
    },
    groups: [...groups.values()],
  };
}
