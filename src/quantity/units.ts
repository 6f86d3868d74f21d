import {
  KILOGRAMS_PER_POUND,
  KILONEWTONS_PER_CUBIC_METRE_PER_PCF,
  KILOPASCALS_PER_PSF,
  KILOPASCALS_PER_PSI,
  LITRES_PER_GALLON,
  METRES_PER_FOOT,
  MILLIMETRES_PER_INCH,
  NEWTONS_PER_POUND_FORCE,
  SQUARE_METRES_PER_SQUARE_FOOT,
} from "./factors.ts";

/**
 * Exponents of metre, kilogram, second, kelvin and unit of currency. Litres are cubic metres here and a modulus
 * is a pressure: two numbers may be added or compared only when these agree.
 */
export type Dimension = readonly [
  length: number,
  mass: number,
  time: number,
  temperature: number,
  money: number,
];

export const NO_DIMENSION: Dimension = [0, 0, 0, 0, 0];
const LENGTH: Dimension = [1, 0, 0, 0, 0];
const AREA: Dimension = [2, 0, 0, 0, 0];
const VOLUME: Dimension = [3, 0, 0, 0, 0];
const MASS: Dimension = [0, 1, 0, 0, 0];
const TIME: Dimension = [0, 0, 1, 0, 0];
const TEMPERATURE: Dimension = [0, 0, 0, 1, 0];
const MONEY: Dimension = [0, 0, 0, 0, 1];
const PRESSURE: Dimension = [-1, 1, -2, 0, 0];
const FORCE: Dimension = [1, 1, -2, 0, 0];
const UNIT_WEIGHT: Dimension = [-2, 1, -2, 0, 0];
const FLOW: Dimension = [3, 0, -1, 0, 0];
const VELOCITY: Dimension = [1, 0, -1, 0, 0];
const DENSITY: Dimension = [-3, 1, 0, 0, 0];
const LINEAR_MASS: Dimension = [-1, 1, 0, 0, 0];

export const sameDimension = (a: Dimension, b: Dimension): boolean =>
  a === b || a.every((exponent, i) => exponent === b[i]);

export interface Unit {
  readonly dimension: Dimension;
  /** Coherent SI = value × scale + offset. Only temperatures have an offset. */
  readonly scale: number;
  readonly offset: number;
  /** The system of those who measure in it; null for what both do, such as minutes and percent. */
  readonly system: "us" | "si" | null;
  /** How people write it, lower case; the first is how the program writes it. */
  readonly spellings: readonly [string, ...string[]];
}

const unitOf =
  (system: Unit["system"]) =>
  (dimension: Dimension, scale: number, ...spellings: Unit["spellings"]): Unit => ({
    dimension,
    scale,
    offset: 0,
    system,
    spellings,
  });
const metric = unitOf("si");
const customary = unitOf("us");
const shared = unitOf(null);

/** Every unit the program reads or writes. Keys are the names used in settings, formulas and column headings. */
export const units = {
  m: metric(LENGTH, 1, "m", "metre", "metres", "meter", "meters", "mtr"),
  mm: metric(LENGTH, 1e-3, "mm", "millimetre", "millimetres", "millimeter", "millimeters"),
  cm: metric(LENGTH, 1e-2, "cm", "centimetre", "centimetres", "centimeter", "centimeters"),
  ft: customary(LENGTH, METRES_PER_FOOT, "ft", "'", "feet", "foot", "lf", "ft.", "′", "’"),
  in: customary(LENGTH, MILLIMETRES_PER_INCH / 1000, "in", '"', "inch", "inches", "in.", "″", "”", "''"),
  yd: customary(LENGTH, 3 * METRES_PER_FOOT, "yd", "yard", "yards"),
  km: metric(LENGTH, 1e3, "km"),
  mi: customary(LENGTH, 5280 * METRES_PER_FOOT, "mi", "mile", "miles"),
  m2: metric(AREA, 1, "m2", "m²", "sqm", "sq m"),
  ft2: customary(AREA, SQUARE_METRES_PER_SQUARE_FOOT, "ft2", "ft²", "sqft", "sq ft", "sf"),
  m3: metric(VOLUME, 1, "m3", "m³"),
  L: metric(VOLUME, 1e-3, "L", "l", "litre", "litres", "liter", "liters"),
  gal: customary(VOLUME, LITRES_PER_GALLON / 1000, "gal", "gallon", "gallons"),
  kg: metric(MASS, 1, "kg", "kilogram", "kilograms"),
  lb: customary(MASS, KILOGRAMS_PER_POUND, "lb", "lbs", "pound", "pounds"),
  s: shared(TIME, 1, "s", "sec", "second", "seconds"),
  min: shared(TIME, 60, "min", "minute", "minutes"),
  h: shared(TIME, 3600, "h", "hr", "hour", "hours"),
  d: shared(TIME, 86400, "d", "day", "days"),
  a: shared(TIME, 365.2425 * 86400, "years", "year", "yr", "yrs", "a"),
  N: metric(FORCE, 1, "N", "newton", "newtons"),
  kN: metric(FORCE, 1e3, "kN"),
  lbf: customary(FORCE, NEWTONS_PER_POUND_FORCE, "lbf"),
  Pa: metric(PRESSURE, 1, "Pa"),
  kPa: metric(PRESSURE, 1e3, "kPa"),
  MPa: metric(PRESSURE, 1e6, "MPa"),
  psi: customary(PRESSURE, KILOPASCALS_PER_PSI * 1000, "psi"),
  psf: customary(PRESSURE, KILOPASCALS_PER_PSF * 1000, "psf"),
  kN_per_m3: metric(UNIT_WEIGHT, 1e3, "kN/m3", "kn/m³"),
  pcf: customary(UNIT_WEIGHT, KILONEWTONS_PER_CUBIC_METRE_PER_PCF * 1000, "pcf", "lb/ft3"),
  L_per_s: metric(FLOW, 1e-3, "L/s", "l/s", "lps"),
  gpm: customary(FLOW, LITRES_PER_GALLON / 1000 / 60, "gpm"),
  MGD: customary(FLOW, (LITRES_PER_GALLON * 1000) / 86_400, "MGD", "mgd"),
  m_per_s: metric(VELOCITY, 1, "m/s"),
  ft_per_s: customary(VELOCITY, METRES_PER_FOOT, "ft/s", "fps"),
  m_per_min: metric(VELOCITY, 1 / 60, "m/min"),
  ft_per_min: customary(VELOCITY, METRES_PER_FOOT / 60, "ft/min"),
  kg_per_L: metric(DENSITY, 1000, "kg/L", "kg/l"),
  lb_per_gal: customary(DENSITY, (KILOGRAMS_PER_POUND * 1000) / LITRES_PER_GALLON, "lb/gal"),
  kg_per_m: metric(LINEAR_MASS, 1, "kg/m"),
  lb_per_ft: customary(LINEAR_MASS, KILOGRAMS_PER_POUND / METRES_PER_FOOT, "lb/ft"),
  degC: { ...metric(TEMPERATURE, 1, "°C", "degc", "c", "celsius"), offset: 273.15 },
  degF: { ...customary(TEMPERATURE, 5 / 9, "°F", "degf", "f", "fahrenheit"), offset: 459.67 * (5 / 9) },
  percent: shared(NO_DIMENSION, 0.01, "%", "percent", "pct"),
  permille: shared(NO_DIMENSION, 0.001, "‰", "permille", "promille"),
  one: shared(NO_DIMENSION, 1, ""),
  cent: shared(MONEY, 0.01, "cents", "cent", "¢"),
  money: shared(MONEY, 1, "", "$", "usd", "€", "eur", "£", "gbp"),
} as const satisfies Record<string, Unit>;

export type UnitKey = keyof typeof units;

/**
 * Converts between two units of one dimension. Each direction is one multiplication by an exact scale and one
 * division, so a round trip is right to the last bit or two.
 *
 * @throws RangeError when the dimensions differ: that is a mistake in the program, never in a user's file.
 */
export const convert = (value: number, from: UnitKey, to: UnitKey): number =>
  from === to ? value : converter(from, to)(value);

/** The same for many values: the units are looked up once. */
export function converter(from: UnitKey, to: UnitKey): (value: number) => number {
  const a: Unit = units[from];
  const b: Unit = units[to];
  if (!sameDimension(a.dimension, b.dimension))
    throw new RangeError(`convert: ${from} and ${to} measure different things`);
  // Through kelvin 140 °F would be 60.00000000000006 °C, and over a limit of 60.
  if (from !== to && from === "degF") return (value) => ((value - 32) * 5) / 9;
  if (from !== to && from === "degC") return (value) => (value * 9) / 5 + 32;
  // One function for the same unit too: a loop that always calls the same one has it compiled in.
  const scale = from === to ? 1 : a.scale;
  const per = from === to ? 1 : b.scale;
  return (value) => (value * scale) / per;
}

const bySpelling = new Map<string, UnitKey>();
for (const [key, { spellings }] of Object.entries(units) as [UnitKey, Unit][]) {
  for (const spelling of spellings) if (spelling !== "") bySpelling.set(spelling.toLowerCase(), key);
}

/** The unit somebody wrote, or null. `L` and `l` are litres; `M` is not a million. */
export const unitWritten = (text: string): UnitKey | null =>
  bySpelling.get(text.trim().toLowerCase()) ?? null;

/** `inches`, where `in` would read as another word; `mm`, `psi`. */
export const unitInWords = (unit: UnitKey): string =>
  unit === "in" ? "inches" : unit === "ft" ? "feet" : units[unit].spellings[0];
