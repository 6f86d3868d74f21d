import { BACKUP_RECORD_YEARS } from "../cohort/blockage-tables.ts";
import type { CityRecord, GradeRecord, LateralGroup } from "../cohort/city-fits.ts";
import type { SeenLaterals } from "../cohort/cohort-lives.ts";
import { hostMaterials } from "../columns/lateral-columns.ts";
import { readCondition } from "../plan/condition.ts";
import { isWholeGrade } from "../plan/failure.ts";
import { omOf, rateSurveyed, structuralOf } from "../plan/found-surveys.ts";
import { isComplete } from "../plan/joined-surveys.ts";
import type { Lateral } from "../plan/lateral.ts";
import { yearOf } from "../quantity/calendar.ts";
import type { Metres } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { codesOf, numbersOf } from "../sheet/table.ts";
import { openInspections } from "./inspections-at.ts";
import { isDecided, openLaterals } from "./lateral-at.ts";
import type { ProgramTables } from "./program-tables.ts";

/** What the fits look at of each lateral, a row each, in shared memory: threads take blocks of rows. Missing is −1, of doubles NaN. */
export interface RecordRows {
  /** Place in {@link materials}. */
  readonly material: Uint8Array;
  readonly installYear: Int16Array;
  /** Year of the survey that the structural grade is of, of laterals surveyed whole. */
  readonly surveyedIn: Int16Array;
  readonly structural: Int8Array;
  readonly om: Int8Array;
  readonly isWhole: Uint8Array;
  readonly backups: Float64Array;
  /** Diameter × length, mm·m. */
  readonly size: Float64Array;
  /** Blocks given out so far. */
  readonly taken: Int32Array;
}

const materials: readonly string[] = ["", ...hostMaterials];

/** Rows read at a stretch. */
const BLOCK = 1024;

/** A record of so many laterals, of which nothing is read. */
export function emptyRecord(rows: number): RecordRows {
  const bytes = (size: number) => new SharedArrayBuffer(rows * size);
  return {
    material: new Uint8Array(bytes(1)),
    installYear: new Int16Array(bytes(2)),
    surveyedIn: new Int16Array(bytes(2)),
    structural: new Int8Array(bytes(1)),
    om: new Int8Array(bytes(1)),
    isWhole: new Uint8Array(bytes(1)),
    backups: new Float64Array(bytes(8)),
    size: new Float64Array(bytes(8)),
    taken: new Int32Array(new SharedArrayBuffer(4)),
  };
}

/** Takes blocks of rows and reads them, until all are taken: decisions over the city's values, surveys as of the program's day. */
export function readRecord(tables: ProgramTables, basis: Basis, into: RecordRows): void {
  const { rows } = tables.laterals;
  const readRow = openRows(tables, basis, into);
  for (;;) {
    const from = Atomics.add(into.taken, 0, 1) * BLOCK;
    if (from >= rows) return;
    for (let row = from; row < Math.min(from + BLOCK, rows); row++) readRow(row);
  }
}

/**
 * A lateral that nobody decided on and that has one survey or none, as nearly all are, is read from the columns: nothing is joined there,
 * carried forward or passed over. Any other is read as the plan reads it.
 */
function openRows(tables: ProgramTables, basis: Basis, into: RecordRows): (row: number) => void {
  const { laterals } = tables;
  const { asOf } = basis.program;
  const lateralOf = openLaterals(tables);
  const surveysOf = openInspections(tables);
  const { codes, words } = codesOf(laterals, "host_material");
  const materialOf = Uint8Array.from(words, (word, code) => (code === 0 ? 0 : materials.indexOf(word)));
  const installYear = numbersOf(laterals, "install_year");
  const backups = numbersOf(laterals, "backups");
  const diameter = numbersOf(laterals, "host_diameter");
  const length = numbersOf(laterals, "host_length");

  return (row) => {
    const surveys = surveysOf(row);
    const survey = surveys[0];
    if (surveys.length > 1 || (survey !== undefined && !(survey.on <= asOf)) || isDecided(tables, row)) {
      readLateral(lateralOf(row), basis, into, row);
      return;
    }
    const hostLength = length[row]! as Metres;
    into.material[row] = materialOf[codes[row]!]!;
    into.installYear[row] = Number.isNaN(installYear[row]!) ? -1 : installYear[row]!;
    into.backups[row] = backups[row]!;
    into.size[row] = diameter[row]! * hostLength;
    if (survey === undefined) {
      into.surveyedIn[row] = -1;
      into.structural[row] = -1;
      into.om[row] = -1;
      into.isWhole[row] = 0;
      return;
    }
    const rated = rateSurveyed(survey);
    const complete = isComplete(survey, Number.isNaN(hostLength) ? null : hostLength);
    into.surveyedIn[row] = complete ? yearOf(survey.on) : -1;
    into.structural[row] = structuralOf(rated) ?? -1;
    into.om[row] = omOf(rated) ?? -1;
    into.isWhole[row] = Number(complete);
  };
}

function readLateral(
  lateral: Lateral,
  { program, treatments: { thresholds } }: Basis,
  into: RecordRows,
  row: number,
): void {
  const { surveyTooOldYears, joinSurveysWithinDays } = thresholds;
  const condition = readCondition(lateral, program.asOf, surveyTooOldYears, joinSurveysWithinDays);
  const { hostDiameter, hostLength } = lateral;
  const { structuralSeen } = condition;
  into.material[row] = materials.indexOf(lateral.hostMaterial?.value ?? "");
  into.installYear[row] = lateral.installYear?.value ?? -1;
  into.surveyedIn[row] =
    condition.state === "surveyed" && structuralSeen !== null ? yearOf(structuralSeen) : -1;
  into.structural[row] = condition.structural?.value ?? -1;
  into.om[row] = condition.om?.value ?? -1;
  into.isWhole[row] = Number(isWholeGrade(condition));
  into.backups[row] = lateral.backups?.value ?? Number.NaN;
  into.size[row] =
    hostDiameter === null || hostLength === null ? Number.NaN : hostDiameter.value * hostLength.value;
}

/** The city's surveys and census: laterals alike are counted. */
export const countGrades = (rows: RecordRows, basis: Basis): GradeRecord => ({
  asOfYear: yearOf(basis.program.asOf),
  seen: countSeen(rows, basis),
  groups: countGroups(rows, basis),
});

/**
 * More than any year of a lateral, and than any age up to a day of four digits of the year. What laterals alike are found by is a whole number: a text,
 * made for each lateral, took half a second of a million.
 */
const YEARS = 4096;
const AGES = 16_384;
/** More than there are grades, −1 included. */
const GRADES = 8;

function countSeen(rows: RecordRows, { failureModes: { reading } }: Basis): readonly SeenLaterals[] {
  const seen = new Map<number, SeenLaterals>();
  for (let row = 0; row < rows.material.length; row++) {
    // A part of a pipe without a bad grade does not say that the pipe is not bad, so parts count for neither.
    const surveyedIn = rows.surveyedIn[row]!;
    const installYear = rows.installYear[row]!;
    const grade = rows.structural[row]!;
    // A survey before the pipe was laid is of the pipe before it.
    if (grade < 0 || installYear < 0 || surveyedIn < installYear) continue;
    const code = rows.material[row]!;
    const age = surveyedIn - installYear;
    const bad = grade >= reading.poorFrom;
    const key = ((code * YEARS + installYear) * AGES + age) * 2 + Number(bad);
    const alike = seen.get(key);
    if (alike === undefined)
      seen.set(key, { material: materials[code]!, installYear, age, bad, laterals: 1 });
    else alike.laterals++;
  }
  return [...seen.values()];
}

/** The record of backups of those that have one. */
export function listBlockages(
  { material, backups, om }: RecordRows,
  { failureModes: { blockage } }: Basis,
): CityRecord["blockages"] {
  const expectedOf = (rate: number) => BACKUP_RECORD_YEARS * rate;
  const ofGrade = blockage.ratePerYear.map(expectedOf);
  const notGraded = expectedOf(blockage.rateNotGraded);
  const list = {
    material: new Uint8Array(material.length),
    events: new Float64Array(material.length),
    expected: new Float64Array(material.length),
  };
  let recorded = 0;
  for (let row = 0; row < material.length; row++) {
    if (Number.isNaN(backups[row]!)) continue;
    list.material[recorded] = material[row]!;
    list.events[recorded] = backups[row]!;
    list.expected[recorded] = om[row]! < 0 ? notGraded : ofGrade[om[row]!]!;
    recorded++;
  }
  return {
    materials,
    material: list.material.subarray(0, recorded),
    events: list.events.subarray(0, recorded),
    expected: list.expected.subarray(0, recorded),
  };
}

function countGroups(rows: RecordRows, { program }: Basis): readonly LateralGroup[] {
  const asOfYear = yearOf(program.asOf);
  const groups: LateralGroup[] = [];
  // Place of each group, from 1: half the time of a map.
  const placeOf = new Int32Array(materials.length * AGES * GRADES * 2);
  for (let row = 0; row < rows.material.length; row++) {
    const code = rows.material[row]!;
    const year = rows.installYear[row]!;
    const age = year < 0 ? -1 : Math.max(0, asOfYear - year);
    const grade = rows.structural[row]!;
    const whole = rows.isWhole[row]!;
    const key = ((code * AGES + age + 1) * GRADES + grade + 1) * 2 + whole;
    if (placeOf[key] === 0)
      placeOf[key] = groups.push({
        grade: grade < 0 ? null : grade,
        whole: whole === 1,
        material: materials[code]!,
        age: age < 0 ? null : age,
        laterals: 0,
        diameterLength: 0,
      });
    const group = groups[placeOf[key]! - 1]!;
    group.laterals++;
    const size = rows.size[row]!;
    if (!Number.isNaN(size)) group.diameterLength += size;
  }
  return groups;
}
