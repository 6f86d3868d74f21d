import type { DecidedValue } from "../columns/decided.ts";
import type {
  AccessWay,
  Building,
  CrossBoreState,
  EffluentKind,
  HostMaterial,
  LateralKey,
  MainLining,
  Owner,
  Surface,
} from "../columns/lateral-columns.ts";
import type { PlanKey, TreatmentKind, WorkStatus } from "../columns/plan-columns.ts";
import { nothingSeen, readHostSeen } from "../plan/host-seen.ts";
import { type Given, type Lateral, notTracked } from "../plan/lateral.ts";
import { stated } from "../plan/stated.ts";
import { onceFor } from "../quantity/once-for.ts";
import type { Celsius, Cents, Day, Fraction, Metres, Millimetres } from "../quantity/si.ts";
import { codesOf, numbersOf, type Table, textsOf } from "../sheet/table.ts";
import { inspectionsAt } from "./inspections-at.ts";
import type { ProgramTables } from "./program-tables.ts";

/** What the city-wide fits look at. */
export type Recorded = Pick<
  Lateral,
  "hostDiameter" | "hostLength" | "hostMaterial" | "installYear" | "backups" | "inspections" | "decided"
>;

/** Of the record of one lateral what the fits look at, before the plan: a third of the time that the whole takes. */
export function recordedAt(tables: ProgramTables, row: number): Recorded {
  const cells = cellsOf(tables.laterals);
  const by = decidedAt(tables, cells, row);
  return {
    hostDiameter: cells.hostDiameter.at(row, by),
    hostLength: cells.hostLength.at(row, by),
    hostMaterial: cells.hostMaterial.at(row, by),
    installYear: cells.installYear.at(row, by),
    backups: cells.backups.at(row, by),
    inspections: inspectionsAt(tables, row),
    decided: by === undefined ? nothingDecided : decidedBy(by),
  };
}

/** The record of one lateral from the tables: the city's values, a person's decisions over them, its surveys. */
export function lateralAt(tables: ProgramTables, row: number): Lateral {
  const cells = cellsOf(tables.laterals);
  const by = decidedAt(tables, cells, row);
  const inspections = inspectionsAt(tables, row);
  const hostDiameter = cells.hostDiameter.at(row, by);
  const seen =
    tables.observations === undefined ? nothingSeen : readHostSeen(inspections, hostDiameter?.value ?? null);
  return {
    id: cells.id(row),
    district: cells.district(row),
    location: cells.location(row),
    hostDiameter,
    hostLength: cells.hostLength.at(row, by),
    hostMaterial: cells.hostMaterial.at(row, by),
    installYear: cells.installYear.at(row, by),
    coverAtMain: cells.coverAtMain.at(row, by),
    coverAtHouse: cells.coverAtHouse.at(row, by),
    waterTableDepth: cells.waterTableDepth.at(row, by),
    surface: cells.surface.at(row, by),
    mainDiameter: cells.mainDiameter.at(row, by),
    cleanout: cells.cleanout.at(row, by),
    crossBore: cells.crossBore.at(row, by),
    building: cells.building.at(row, by),
    backups: cells.backups.at(row, by),
    bends: cells.bends.at(row, by) ?? seen.bends,
    sharpestBend: cells.sharpestBend.at(row, by) ?? seen.sharpestBend,
    sizeChange: cells.sizeChange.at(row, by) ?? seen.sizeChange,
    branches: cells.branches.at(row, by),
    slope: cells.slope.at(row, by),
    fixtureUnits: cells.fixtureUnits.at(row, by),
    effluent: cells.effluent.at(row, by),
    effluentTemperature: cells.effluentTemperature.at(row, by),
    mainLining: cells.mainLining.at(row, by),
    access: cells.access.at(row, by),
    lowerLength: cells.lowerLength.at(row, by),
    upperLength: cells.upperLength.at(row, by),
    lowerOwner: cells.lowerOwner.at(row, by),
    upperOwner: cells.upperOwner.at(row, by),
    cityShare: cells.cityShare.at(row, by),
    propertyLineCleanout: cells.propertyLineCleanout.at(row, by),
    permissionSigned: cells.permissionSigned.at(row, by),
    permissionExpires: cells.permissionExpires.at(row, by),
    inspections,
    decided: by === undefined ? nothingDecided : decidedBy(by),
    tracked: by === undefined ? notTracked : trackedBy(by),
  };
}

/** What people decided of one lateral; most have nothing decided. */
type Deciding = ReadonlyMap<string, DecidedValue> | undefined;

const decidedAt = ({ decisions }: ProgramTables, cells: Cells, row: number): Deciding =>
  decisions.size === 0 ? undefined : decisions.get(cells.id(row));

const nothingDecided: Lateral["decided"] = { structuralGrade: null, omGrade: null, treatment: null };

const decidedBy = (by: NonNullable<Deciding>): Lateral["decided"] => ({
  structuralGrade: over<number>(by, "structural_grade"),
  omGrade: over<number>(by, "om_grade"),
  treatment: over<TreatmentKind>(by, "treatment"),
});

const trackedBy = (by: NonNullable<Deciding>): Lateral["tracked"] => ({
  status: over<WorkStatus>(by, "status"),
  statusOn: over<Day>(by, "status_on"),
  installedLength: over<Metres>(by, "installed_length"),
  installedCost: over<Cents>(by, "installed_cost"),
});

function over<T extends number | string>(by: NonNullable<Deciding>, key: PlanKey | LateralKey): Given<T> {
  const decided = by.get(key);
  return decided === undefined ? null : stated(decided.value as T, "decided", decided.reason);
}

/**
 * The city's columns of laterals with their readers, a person's decision before the city's value. Found once a table: looked up cell by
 * cell they took a sixteenth of the plan's time, and read through a function for every key twice as long as so.
 */
function openCells(laterals: Table) {
  const number = <T extends number>(key: LateralKey) => new NumberCells<T>(key, numbersOf(laterals, key));
  const word = <T extends string>(key: LateralKey) => new WordCells<T>(key, laterals);
  const flag = (key: LateralKey) => new FlagCells(key, numbersOf(laterals, key));
  return {
    id: textsOf(laterals, "lateral"),
    district: textsOf(laterals, "district"),
    location: textsOf(laterals, "location"),
    hostDiameter: number<Millimetres>("host_diameter"),
    hostLength: number<Metres>("host_length"),
    hostMaterial: word<HostMaterial>("host_material"),
    installYear: number("install_year"),
    coverAtMain: number<Metres>("cover_main"),
    coverAtHouse: number<Metres>("cover_house"),
    waterTableDepth: number<Metres>("water_table_depth"),
    surface: word<Surface>("surface"),
    mainDiameter: number<Millimetres>("main_diameter"),
    cleanout: flag("cleanout"),
    crossBore: word<CrossBoreState>("cross_bore"),
    building: word<Building>("building"),
    backups: number("backups"),
    bends: number("bends"),
    sharpestBend: number("sharpest_bend"),
    sizeChange: number<Fraction>("size_change"),
    branches: number("branches"),
    slope: number<Fraction>("slope"),
    fixtureUnits: number("fixture_units"),
    effluent: word<EffluentKind>("effluent"),
    effluentTemperature: number<Celsius>("effluent_temperature"),
    mainLining: word<MainLining>("main_lining"),
    access: word<AccessWay>("access"),
    lowerLength: number<Metres>("lower_length"),
    upperLength: number<Metres>("upper_length"),
    lowerOwner: word<Owner>("lower_owner"),
    upperOwner: word<Owner>("upper_owner"),
    cityShare: number<Fraction>("city_share"),
    propertyLineCleanout: flag("property_line_cleanout"),
    permissionSigned: number<Day>("permission_signed"),
    permissionExpires: number<Day>("permission_expires"),
  };
}

type Cells = ReturnType<typeof openCells>;
const cellsOf = onceFor(openCells);

class NumberCells<T extends number> {
  readonly #key: LateralKey;
  readonly #values: Float64Array;

  constructor(key: LateralKey, values: Float64Array) {
    this.#key = key;
    this.#values = values;
  }

  at(row: number, by: Deciding): Given<T> {
    if (by?.has(this.#key)) return over<T>(by, this.#key);
    const value = this.#values[row]!;
    return Number.isNaN(value) ? null : stated(value as T, "city");
  }
}

const yes = stated(true, "city");
const no = stated(false, "city");

class FlagCells {
  readonly #key: LateralKey;
  readonly #values: Float64Array;

  constructor(key: LateralKey, values: Float64Array) {
    this.#key = key;
    this.#values = values;
  }

  at(row: number, by: Deciding): Given<boolean> {
    const decided = by === undefined ? null : over<number>(by, this.#key);
    if (decided !== null) return { ...decided, value: decided.value !== 0 };
    const value = this.#values[row]!;
    return Number.isNaN(value) ? null : value !== 0 ? yes : no;
  }
}

/** Words as stated by the city; one record stands for a word wherever it occurs. */
class WordCells<T extends string> {
  readonly #key: LateralKey;
  readonly #codes: Uint32Array;
  readonly #words: readonly Given<T>[];

  constructor(key: LateralKey, laterals: Table) {
    const { codes, words } = codesOf(laterals, key);
    this.#key = key;
    this.#codes = codes;
    this.#words = words.map((word, code) => (code === 0 || word === "" ? null : stated(word as T, "city")));
  }

  at(row: number, by: Deciding): Given<T> {
    if (by?.has(this.#key)) return over<T>(by, this.#key);
    return this.#words[this.#codes[row]!]!;
  }
}
