import type { DecidedValue } from "../columns/decided.ts";
import type { InspectionKey, LateralKey, ObservationKey, SurveyStart } from "../columns/lateral-columns.ts";
import type { PlanKey, TreatmentKind, WorkStatus } from "../columns/plan-columns.ts";
import { nothingSeen, readHostSeen } from "../plan/host-seen.ts";
import type { Given, Inspection, Lateral, Observation } from "../plan/lateral.ts";
import { stated } from "../plan/stated.ts";
import {
  type Cents,
  type Day,
  type Fraction,
  fraction,
  type Metres,
  type Millimetres,
  metres,
} from "../quantity/si.ts";
import { numberAt, type Table, textAt } from "../sheet/table.ts";
import type { ObservationTables, ProgramTables } from "./program-tables.ts";

/** What the city-wide fits look at. */
export type Recorded = Pick<
  Lateral,
  "hostDiameter" | "hostLength" | "hostMaterial" | "installYear" | "backups" | "inspections" | "decided"
>;

/** Of the record of one lateral what the fits look at, before the plan: a third of the time that the whole takes. */
export function recordedAt(tables: ProgramTables, row: number): Recorded {
  const { inspections, firstInspection, observations } = tables;
  const { number, word, over } = cellsAt(tables, row);
  return {
    hostDiameter: number<Millimetres>("host_diameter"),
    hostLength: number("host_length"),
    hostMaterial: word("host_material"),
    installYear: number("install_year"),
    backups: number("backups"),
    inspections: inspectionsOf(inspections, firstInspection, row, observations ?? null),
    decided: {
      structuralGrade: over<number>("structural_grade"),
      omGrade: over<number>("om_grade"),
      treatment: over<TreatmentKind>("treatment"),
    },
  };
}

/** Readers of one lateral's cells: a person's decision before the city's value. */
function cellsAt({ laterals, decisions }: ProgramTables, row: number) {
  const id = textAt(laterals, "lateral", row);
  const decided = decisions.get(id);
  const city = cityOf(laterals);
  const number = <T extends number>(key: LateralKey): Given<T> => {
    const by = decided?.get(key);
    if (by !== undefined) return ofPerson(by);
    const value = city.number(key)[row]!;
    return Number.isNaN(value) ? null : stated(value as T, "city");
  };
  const word = <T extends string>(key: LateralKey): Given<T> => {
    const by = decided?.get(key);
    return by !== undefined ? ofPerson(by) : (city.word(key, row) as Given<T>);
  };
  const over = <T extends number | string>(key: PlanKey): Given<T> => {
    const by = decided?.get(key);
    return by === undefined ? null : ofPerson(by);
  };
  return { id, number, word, over };
}

/** The record of one lateral from the tables: the city's values, a person's decisions over them, its surveys. */
export function lateralAt(tables: ProgramTables, row: number): Lateral {
  const { laterals, inspections, firstInspection, observations } = tables;
  const { id, number, word, over } = cellsAt(tables, row);
  const flag = (key: LateralKey): Given<boolean> => {
    const found = number(key);
    return found === null ? null : { ...found, value: found.value !== 0 };
  };
  const surveys = inspectionsOf(inspections, firstInspection, row, observations ?? null);
  const hostDiameter = number<Millimetres>("host_diameter");
  const seen = observations === undefined ? nothingSeen : readHostSeen(surveys, hostDiameter?.value ?? null);
  return {
    id,
    district: textAt(laterals, "district", row),
    location: textAt(laterals, "location", row),
    hostDiameter,
    hostLength: number("host_length"),
    hostMaterial: word("host_material"),
    installYear: number("install_year"),
    coverAtMain: number("cover_main"),
    coverAtHouse: number("cover_house"),
    waterTableDepth: number("water_table_depth"),
    surface: word("surface"),
    mainDiameter: number("main_diameter"),
    cleanout: flag("cleanout"),
    crossBore: word("cross_bore"),
    building: word("building"),
    backups: number("backups"),
    bends: number("bends") ?? seen.bends,
    sharpestBend: number("sharpest_bend") ?? seen.sharpestBend,
    sizeChange: number<Fraction>("size_change") ?? seen.sizeChange,
    branches: number("branches"),
    slope: number("slope"),
    fixtureUnits: number("fixture_units"),
    effluent: word("effluent"),
    effluentTemperature: number("effluent_temperature"),
    mainLining: word("main_lining"),
    access: word("access"),
    lowerLength: number("lower_length"),
    upperLength: number("upper_length"),
    lowerOwner: word("lower_owner"),
    upperOwner: word("upper_owner"),
    cityShare: number("city_share"),
    propertyLineCleanout: flag("property_line_cleanout"),
    permissionSigned: number("permission_signed"),
    permissionExpires: number("permission_expires"),
    inspections: surveys,
    decided: {
      structuralGrade: over<number>("structural_grade"),
      omGrade: over<number>("om_grade"),
      treatment: over<TreatmentKind>("treatment"),
    },
    tracked: {
      status: over<WorkStatus>("status"),
      statusOn: over<Day>("status_on"),
      installedLength: over<Metres>("installed_length"),
      installedCost: over<Cents>("installed_cost"),
    },
  };
}

const ofPerson = <T extends number | string>({ value, reason }: DecidedValue): Given<T> =>
  stated(value as T, "decided", reason);

/** The city's columns of laterals, found once a table: looked up cell by cell they took a sixteenth of the plan's time. */
interface City {
  readonly number: (key: LateralKey) => Float64Array;
  /** As stated by the city; one record stands for a word wherever it occurs. */
  readonly word: (key: LateralKey, row: number) => Given<string>;
}

const cities = new WeakMap<Table, City>();

function cityOf(laterals: Table): City {
  let city = cities.get(laterals);
  if (city === undefined) {
    city = openCity(laterals);
    cities.set(laterals, city);
  }
  return city;
}

function openCity(laterals: Table): City {
  const numbers: Partial<Record<LateralKey, Float64Array>> = {};
  const words: Partial<Record<LateralKey, (row: number) => Given<string>>> = {};
  const openNumbers = (key: LateralKey): Float64Array => {
    const column = laterals.columns.get(key);
    if (column?.kind !== "number") throw new RangeError(`lateralAt: no number column ${JSON.stringify(key)}`);
    numbers[key] = column.values;
    return column.values;
  };
  const openWords = (key: LateralKey): ((row: number) => Given<string>) => {
    const column = laterals.columns.get(key);
    const asCity = (word: string) => (word === "" ? null : stated(word, "city"));
    if (column?.kind === "code") {
      const ofCode = column.words.map((word, code) => asCity(code === 0 ? "" : word));
      words[key] = (row) => ofCode[column.codes[row]!]!;
    } else words[key] = (row) => asCity(textAt(laterals, key, row));
    return words[key];
  };
  return {
    number: (key) => numbers[key] ?? openNumbers(key),
    word: (key, row) => (words[key] ?? openWords(key))(row),
  };
}

const present = <T extends number>(value: number): T | null => (Number.isNaN(value) ? null : (value as T));
const wordOf = <T extends string>(word: string): T | null => (word === "" ? null : (word as T));

function inspectionsOf(
  table: Table,
  first: Uint32Array,
  row: number,
  seen: ObservationTables | null,
): readonly Inspection[] {
  const list: Inspection[] = [];
  for (let at = first[row] ?? 0; at < (first[row + 1] ?? 0); at++) list.push(inspectionAt(table, at, seen));
  return list;
}

/** The columns of numbers of inspections, found once a table. */
function openSurveys(table: Table) {
  const numbers = (key: InspectionKey): Float64Array => {
    const column = table.columns.get(key);
    if (column?.kind !== "number") throw new RangeError(`lateralAt: no number column ${JSON.stringify(key)}`);
    return column.values;
  };
  return {
    on: numbers("inspected_on"),
    structuralGrade: numbers("structural_grade"),
    omGrade: numbers("om_grade"),
    connectionGrade: numbers("connection_grade"),
    length: numbers("surveyed_length"),
    complete: numbers("survey_complete"),
    ovality: numbers("ovality"),
  };
}

const surveysOf = new WeakMap<Table, ReturnType<typeof openSurveys>>();

function inspectionAt(table: Table, row: number, seen: ObservationTables | null): Inspection {
  let open = surveysOf.get(table);
  if (open === undefined) {
    open = openSurveys(table);
    surveysOf.set(table, open);
  }
  const length = present(open.length[row]!);
  const complete = present(open.complete[row]!);
  const ovality = present(open.ovality[row]!);
  return {
    on: open.on[row]! as Day,
    structuralGrade: present(open.structuralGrade[row]!),
    omGrade: present(open.omGrade[row]!),
    connectionGrade: present(open.connectionGrade[row]!),
    structuralQuick: textAt(table, "structural_quick", row),
    omQuick: textAt(table, "om_quick", row),
    surveyedLength: length === null ? null : (metres(length) as Metres),
    complete: complete === null ? null : complete !== 0,
    stoppedBecause: textAt(table, "stopped_because", row),
    ovality: ovality === null ? null : fraction(ovality),
    direction: wordOf<SurveyStart>(textAt(table, "direction", row)),
    observations: observationsOf(seen, row),
  };
}

/** Null for a survey without a row: that none was seen would have to be said. */
function observationsOf(seen: ObservationTables | null, survey: number): readonly Observation[] | null {
  if (seen === null) return null;
  const list: Observation[] = [];
  for (let at = seen.first[survey] ?? 0; at < (seen.first[survey + 1] ?? 0); at++)
    list.push(observationAt(seen.table, at));
  return list.length === 0 ? null : list;
}

function observationAt(table: Table, row: number): Observation {
  const number = <T extends number>(key: ObservationKey): T | null => present<T>(numberAt(table, key, row));
  return {
    from: number<Metres>("from"),
    to: number<Metres>("to"),
    kind: textAt(table, "kind", row),
    mode: textAt(table, "mode", row) as Observation["mode"],
    grade: number("grade"),
    clock: textAt(table, "clock", row),
    turn: number("turn"),
    sizeAfter: number<Millimetres>("size_after"),
    note: textAt(table, "note", row),
  };
}
