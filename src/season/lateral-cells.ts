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
import type { PlanKey } from "../columns/plan-columns.ts";
import type { Given } from "../plan/lateral.ts";
import { stated } from "../plan/stated.ts";
import { onceFor } from "../quantity/once-for.ts";
import type { Celsius, Day, Fraction, Metres, Millimetres } from "../quantity/si.ts";
import { codesOf, numbersOf, type Table, textsOf } from "../sheet/table.ts";

/** What people decided of one lateral; most have nothing decided. */
export type Deciding = ReadonlyMap<string, DecidedValue> | undefined;

/** A person's decision as a value; null without one. */
export function over<T extends number | string>(
  by: NonNullable<Deciding>,
  key: PlanKey | LateralKey,
): Given<T> {
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

export type LateralCells = ReturnType<typeof openCells>;
export const cellsOf = onceFor(openCells);

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
