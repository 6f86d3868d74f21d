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
  /** How people write it, lower case; the first is how the program writes it. */
  readonly spellings: readonly string[];
}

const unit = (dimension: Dimension, scale: number, ...spellings: string[]): Unit => ({
  dimension,
  scale,
  offset: 0,
  spellings,
});

/** Every unit the program reads or writes. Keys are the names used in settings, formulas and column headings. */
export const units = {
  m: unit(LENGTH, 1, "m", "metre", "metres", "meter", "meters", "mtr"),
  mm: unit(LENGTH, 1e-3, "mm", "millimetre", "millimetres", "millimeter", "millimeters"),
  cm: unit(LENGTH, 1e-2, "cm", "centimetre", "centimetres", "centimeter", "centimeters"),
  ft: unit(LENGTH, METRES_PER_FOOT, "ft", "'", "feet", "foot", "lf", "ft.", "′", "’"),
  in: unit(LENGTH, MILLIMETRES_PER_INCH / 1000, "in", '"', "inch", "inches", "in.", "″", "”", "''"),
  yd: unit(LENGTH, 3 * METRES_PER_FOOT, "yd", "yard", "yards"),
  km: unit(LENGTH, 1e3, "km"),
  mi: unit(LENGTH, 5280 * METRES_PER_FOOT, "mi", "mile", "miles"),
  m2: unit(AREA, 1, "m2", "m²", "sqm", "sq m"),
  ft2: unit(AREA, SQUARE_METRES_PER_SQUARE_FOOT, "ft2", "ft²", "sqft", "sq ft", "sf"),
  m3: unit(VOLUME, 1, "m3", "m³"),
  L: unit(VOLUME, 1e-3, "L", "l", "litre", "litres", "liter", "liters"),
  gal: unit(VOLUME, LITRES_PER_GALLON / 1000, "gal", "gallon", "gallons"),
  kg: unit(MASS, 1, "kg", "kilogram", "kilograms"),
  lb: unit(MASS, KILOGRAMS_PER_POUND, "lb", "lbs", "pound", "pounds"),
  s: unit(TIME, 1, "s", "sec", "second", "seconds"),
  min: unit(TIME, 60, "min", "minute", "minutes"),
  h: unit(TIME, 3600, "h", "hr", "hour", "hours"),
  d: unit(TIME, 86400, "d", "day", "days"),
  a: unit(TIME, 365.2425 * 86400, "years", "year", "yr", "yrs", "a"),
  N: unit(FORCE, 1, "N", "newton", "newtons"),
  kN: unit(FORCE, 1e3, "kN"),
  lbf: unit(FORCE, NEWTONS_PER_POUND_FORCE, "lbf"),
  Pa: unit(PRESSURE, 1, "Pa"),
  kPa: unit(PRESSURE, 1e3, "kPa"),
  MPa: unit(PRESSURE, 1e6, "MPa"),
  psi: unit(PRESSURE, KILOPASCALS_PER_PSI * 1000, "psi"),
  psf: unit(PRESSURE, KILOPASCALS_PER_PSF * 1000, "psf"),
  kN_per_m3: unit(UNIT_WEIGHT, 1e3, "kN/m3", "kn/m³"),
  pcf: unit(UNIT_WEIGHT, KILONEWTONS_PER_CUBIC_METRE_PER_PCF * 1000, "pcf", "lb/ft3"),
  L_per_s: unit(FLOW, 1e-3, "L/s", "l/s", "lps"),
  gpm: unit(FLOW, LITRES_PER_GALLON / 1000 / 60, "gpm"),
  MGD: unit(FLOW, (LITRES_PER_GALLON * 1000) / 86_400, "MGD", "mgd"),
  m_per_s: unit(VELOCITY, 1, "m/s"),
  ft_per_s: unit(VELOCITY, METRES_PER_FOOT, "ft/s", "fps"),
  m_per_min: unit(VELOCITY, 1 / 60, "m/min"),
  ft_per_min: unit(VELOCITY, METRES_PER_FOOT / 60, "ft/min"),
  kg_per_L: unit(DENSITY, 1000, "kg/L", "kg/l"),
  lb_per_gal: unit(DENSITY, (KILOGRAMS_PER_POUND * 1000) / LITRES_PER_GALLON, "lb/gal"),
  kg_per_m: unit(LINEAR_MASS, 1, "kg/m"),
  lb_per_ft: unit(LINEAR_MASS, KILOGRAMS_PER_POUND / METRES_PER_FOOT, "lb/ft"),
  degC: { dimension: TEMPERATURE, scale: 1, offset: 273.15, spellings: ["°C", "degc", "c", "celsius"] },
  degF: {
    dimension: TEMPERATURE,
    scale: 5 / 9,
    offset: 459.67 * (5 / 9),
    spellings: ["°F", "degf", "f", "fahrenheit"],
  },
  percent: unit(NO_DIMENSION, 0.01, "%", "percent", "pct"),
  permille: unit(NO_DIMENSION, 0.001, "‰", "permille", "promille"),
  one: unit(NO_DIMENSION, 1, ""),
  cent: unit(MONEY, 0.01, "cents", "cent", "¢"),
  money: unit(MONEY, 1, "", "$", "usd", "€", "eur", "£", "gbp"),
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
