import { effluents, hostMaterials, surfaces } from "../columns/lateral-columns.ts";
import type { Condition } from "../plan/condition.ts";
import { type Given, type Lateral, notTracked } from "../plan/lateral.ts";
import { type Stated, stated } from "../plan/stated.ts";
import { quantityExpected, readTyped } from "../program/written-values.ts";
import { type QuantityMeasure, quantities, type UnitSystem } from "../quantity/measure.ts";
import { readNumber, readQuantity } from "../quantity/quantity-text.ts";
import { showQuantity } from "../quantity/show-quantity.ts";
import { celsius, type Fraction, fraction, metres, millimetres } from "../quantity/si.ts";
import { isInMain, type PlannedUse, plannedUses } from "../reference/liner-systems.ts";
import { flagOf, type SizeOptionKey, type SizeOptions } from "./size-options.ts";
import { systemTyped } from "./typed-units.ts";

/** One pipe that is nobody's: what the options say of it, and nothing else. */
export interface SizePipe {
  readonly lateral: Lateral;
  readonly ovality: Stated<Fraction> | null;
  /** Sound or worn, for the host's roughness. */
  readonly isWorn: boolean;
}

/** The pipe the options describe; what cannot be read is said in `faults`, all of it. */
export function pipeOfOptions(options: SizeOptions, units: UnitSystem, faults: string[]): SizePipe {
  const given = <T>(key: SizeOptionKey, value: T | null): Given<T> =>
    value === null ? null : stated(value, "decided", flagOf(key));
  const measured = <T>(
    key: keyof typeof limits,
    measure: QuantityMeasure,
    brand: (n: number) => T,
  ): Given<T> => {
    const value = quantityAt(options, key, measure, faults);
    return given(key, value === null ? null : brand(value));
  };
  const numbered = (key: SizeOptionKey, most: number, whole: boolean): Given<number> =>
    given(key, numberAt(options, key, most, whole, faults));
  const word = <Word extends string>(key: SizeOptionKey, words: readonly Word[]): Given<Word> => {
    const text = options[key];
    return text === undefined ? null : given(key, oneOf(text, words, key, faults));
  };

  const cover = measured("cover", "length", metres);
  const ovality = quantityAt(options, "ovality", "percent", faults);
  return {
    lateral: {
      ...NOBODYS,
      hostDiameter: hostOf(options, units, faults),
      hostLength: measured("length", "length", metres),
      hostMaterial: word("material", hostMaterials),
      coverAtMain: measured("coverMain", "length", metres) ?? cover,
      coverAtHouse: measured("coverHouse", "length", metres) ?? cover,
      waterTableDepth: measured("water", "length", metres),
      surface: word("surface", surfaces),
      mainDiameter: measured("main", "diameter", millimetres),
      bends: numbered("bends", 50, true),
      sharpestBend: numbered("sharpestBend", 180, false),
      sizeChange: measured("sizeChange", "percent", fraction),
      slope: measured("slope", "percent", fraction),
      fixtureUnits: numbered("fixtureUnits", 100_000, false),
      effluent: word("effluent", effluents),
      effluentTemperature: measured("effluentTemperature", "temperature", celsius),
    },
    ovality: ovality === null ? null : stated(fraction(ovality), "decided", "--ovality"),
    isWorn: (word("hostCondition", ["sound", "worn"])?.value ?? "worn") === "worn",
  };
}

const NOBODYS: Lateral = {
  id: "the pipe of this sheet",
  district: "",
  location: "",
  hostDiameter: null,
  hostLength: null,
  hostMaterial: null,
  installYear: null,
  coverAtMain: null,
  coverAtHouse: null,
  waterTableDepth: null,
  surface: null,
  mainDiameter: null,
  cleanout: null,
  crossBore: null,
  building: null,
  backups: null,
  bends: null,
  sharpestBend: null,
  sizeChange: null,
  branches: null,
  slope: null,
  fixtureUnits: null,
  effluent: null,
  effluentTemperature: null,
  mainLining: null,
  access: null,
  lowerLength: null,
  upperLength: null,
  lowerOwner: null,
  upperOwner: null,
  cityShare: null,
  propertyLineCleanout: null,
  permissionSigned: null,
  permissionExpires: null,
  inspections: [],
  decided: { structuralGrade: null, omGrade: null, treatment: null },
  tracked: notTracked,
};

/** Surveys that ask for the liner wanted, so that the plan designs it; no survey is claimed on the sheet. */
export function conditionAskingFor(
  use: PlannedUse,
  ovality: Stated<Fraction> | null,
  thresholds: { readonly lineFromStructural: number; readonly connectionFrom: number },
): Condition {
  const asked = (grade: number) => stated(grade, "assumed" as const, "asks for the liner of this sheet");
  return {
    state: "surveyed",
    leading: null,
    joinedWith: null,
    ratings: [],
    pipeRating: null,
    defects: null,
    structural: use === "connection" ? null : asked(thresholds.lineFromStructural),
    structuralSeen: null,
    om: null,
    connection: isInMain(use) ? asked(thresholds.connectionFrom) : null,
    structuralRating: null,
    ovality,
    ageYears: null,
    reinspect: [],
    reasons: [],
  };
}

export function askedUse(options: SizeOptions, faults: string[]): PlannedUse {
  if (options.use === undefined) return "full-length";
  const use = oneOf(options.use, plannedUses, "use", faults);
  if (use !== null && isInMain(use) && options.main === undefined)
    faults.push(`--use ${use}: needs the diameter of the main beside it, such as --main "8 in".`);
  if (use === "one-piece" && options.length === undefined)
    faults.push('--use one-piece: needs the length of the host beside it, such as --length "42 ft".');
  return use ?? "full-length";
}

export function askedUnits(options: SizeOptions, faults: string[]): UnitSystem {
  if (options.units !== undefined)
    return oneOf(options.units, ["us", "si"] as const, "units", faults) ?? "us";
  const typed = Object.values(options).filter((value) => typeof value === "string");
  return systemTyped(options.host, typed);
}

function hostOf({ host }: SizeOptions, units: UnitSystem, faults: string[]): Lateral["hostDiameter"] {
  const read = readQuantity(host, "diameter", quantities.diameter[units]);
  if (!read.ok) {
    faults.push(`--host: found ${JSON.stringify(host)}, expected ${read.expected}.`);
    return null;
  }
  return stated(millimetres(read.value), "decided", "--host");
}

/** What can be of one pipe, in stored units: far wider than any lateral, so that handbook pipes fit. */
const limits = {
  cover: [0, 100],
  coverHouse: [0, 100],
  coverMain: [0, 100],
  water: [-100, 1000],
  ovality: [0, 1],
  length: [0.1, 1000],
  sizeChange: [0, 1],
  slope: [0, 1],
  effluentTemperature: [-20, 200],
  main: [1, 10_000],
} as const satisfies Partial<Record<SizeOptionKey, readonly [number, number]>>;

/** A quantity that carries its own unit, within what can be. */
function quantityAt(
  options: SizeOptions,
  key: keyof typeof limits,
  measure: QuantityMeasure,
  faults: string[],
): number | null {
  const text = options[key];
  if (text === undefined) return null;
  const value = readTyped(text, measure);
  const [least, most] = limits[key];
  if (value !== null && value >= least && value <= most) return value;
  const found = `${flagOf(key)}: found ${JSON.stringify(text)}, expected`;
  if (value === null) faults.push(`${found} ${quantityExpected(measure, text).replace("\n", ". ")}`);
  else {
    const style = { units: "si", currency: "" } as const;
    faults.push(`${found} ${showQuantity(least, measure, style)} to ${showQuantity(most, measure, style)}.`);
  }
  return null;
}

function numberAt(
  options: SizeOptions,
  key: SizeOptionKey,
  most: number,
  whole: boolean,
  faults: string[],
): number | null {
  const text = options[key];
  if (text === undefined) return null;
  const read = readNumber(text.replace(/\s*(degrees?|°)$/i, ""), ".");
  if (read.ok && read.value >= 0 && read.value <= most && (!whole || Number.isInteger(read.value)))
    return read.value;
  const expected = `${whole ? "a whole number" : "a number"} from 0 to ${most}`;
  faults.push(`${flagOf(key)}: found ${JSON.stringify(text)}, expected ${expected}.`);
  return null;
}

function oneOf<Word extends string>(
  text: string,
  words: readonly Word[],
  key: SizeOptionKey,
  faults: string[],
): Word | null {
  const found = words.find((word) => word === text);
  if (found !== undefined) return found;
  const list = words.map((word) => JSON.stringify(word)).join(", ");
  faults.push(`${flagOf(key)}: found ${JSON.stringify(text)}, expected one of ${list}.`);
  return null;
}
