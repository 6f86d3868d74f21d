import { convert, type Dimension, type Unit, type UnitKey, units } from "./units.ts";

export type UnitSystem = NonNullable<Unit["system"]>;

/** What a column holds: the unit it is stored in, the units people see, and the decimals shown. */
interface MeasureSpec {
  readonly stored: UnitKey;
  readonly us: UnitKey;
  readonly si: UnitKey;
  readonly decimals: { readonly us: number; readonly si: number };
}

const measure = (
  stored: UnitKey,
  us: UnitKey,
  usDecimals: number,
  si: UnitKey,
  siDecimals: number,
): MeasureSpec => ({
  stored,
  us,
  si,
  decimals: { us: usDecimals, si: siDecimals },
});

/**
 * Measures with a unit. `diameter` and `wall` are lengths shown at pipe scale; walls are shown in millimetres in
 * both systems because liner stock is made and ordered that way.
 */
export const quantities = {
  length: measure("m", "ft", 1, "m", 2),
  diameter: measure("mm", "in", 1, "mm", 0),
  wall: measure("mm", "mm", 2, "mm", 2),
  area: measure("m2", "ft2", 1, "m2", 2),
  volume: measure("L", "gal", 2, "L", 2),
  mass: measure("kg", "lb", 1, "kg", 1),
  pressure: measure("kPa", "psi", 2, "kPa", 1),
  modulus: measure("MPa", "psi", 0, "MPa", 1),
  force: measure("N", "lbf", 0, "N", 0),
  unit_weight: measure("kN_per_m3", "pcf", 0, "kN_per_m3", 1),
  duration: measure("min", "min", 0, "min", 0),
  age: measure("a", "a", 1, "a", 1),
  temperature: measure("degC", "degF", 0, "degC", 0),
  flow: measure("L_per_s", "gpm", 1, "L_per_s", 2),
  velocity: measure("m_per_s", "ft_per_s", 2, "m_per_s", 2),
  density: measure("kg_per_L", "lb_per_gal", 2, "kg_per_L", 3),
  linear_mass: measure("kg_per_m", "lb_per_ft", 2, "kg_per_m", 2),
  percent: measure("one", "percent", 1, "percent", 1),
  money: measure("cent", "money", 2, "money", 2),
} as const satisfies Record<string, MeasureSpec>;

export type QuantityMeasure = keyof typeof quantities;

/** Measures without a unit to convert: plain numbers, degrees of turn, dates, text. `code` is one of a fixed list of words. */
export type PlainMeasure =
  | "count"
  | "grade"
  | "points"
  | "factor"
  | "degrees"
  | "days"
  | "year"
  | "coordinate"
  | "date"
  | "flag"
  | "code"
  | "text";

export type Measure = QuantityMeasure | PlainMeasure;

export const isQuantity = (measure: Measure): measure is QuantityMeasure => measure in quantities;

/** Whether a column of this measure is kept as numbers (dates as day numbers, flags as 0 and 1). */
export const isNumeric = (measure: Measure): boolean => measure !== "code" && measure !== "text";

/** The unit in which people of this system see the measure; null for a plain number or text. */
export const unitShown = (measure: Measure, system: UnitSystem): UnitKey | null =>
  isQuantity(measure) ? quantities[measure][system] : null;

export const dimensionOf = (measure: QuantityMeasure): Dimension =>
  units[quantities[measure].stored].dimension;

/** Stored value → the number people see. */
export const toShown = (value: number, measure: QuantityMeasure, system: UnitSystem): number =>
  convert(value, quantities[measure].stored, quantities[measure][system]);

/** A number written in `unit` → the stored value. */
export const toStored = (value: number, measure: QuantityMeasure, unit: UnitKey): number =>
  convert(value, unit, quantities[measure].stored);
