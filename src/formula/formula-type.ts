import {
  dimensionOf,
  isQuantity,
  type Measure,
  type QuantityMeasure,
  quantities,
} from "../quantity/measure.ts";
import { type Dimension, NO_DIMENSION, sameDimension, units } from "../quantity/units.ts";

/** What an expression gives. */
export type FormulaType =
  | { readonly kind: "number"; readonly dimension: Dimension }
  | { readonly kind: "boolean" }
  | { readonly kind: "date" }
  | { readonly kind: "text" };

export const PLAIN: FormulaType = { kind: "number", dimension: NO_DIMENSION };
export const YES_NO: FormulaType = { kind: "boolean" };
export const DATE: FormulaType = { kind: "date" };
export const TIME: FormulaType = { kind: "number", dimension: units.s.dimension };

/** The type of a column's values. */
export function typeOfMeasure(measure: Measure): FormulaType {
  if (isQuantity(measure)) return { kind: "number", dimension: dimensionOf(measure) };
  switch (measure) {
    case "flag":
      return YES_NO;
    case "date":
      return DATE;
    case "code":
    case "text":
      return { kind: "text" };
    default:
      return PLAIN;
  }
}

export const isPlain = (type: FormulaType): boolean =>
  type.kind === "number" && sameDimension(type.dimension, NO_DIMENSION);

export function sameType(a: FormulaType, b: FormulaType): boolean {
  if (a.kind !== "number" || b.kind !== "number") return a.kind === b.kind;
  return sameDimension(a.dimension, b.dimension);
}

export const multiply = (a: Dimension, b: Dimension, power: 1 | -1): Dimension =>
  exponents(a.map((exponent, i) => exponent + power * (b[i] ?? Number.NaN)));

export const raise = (a: Dimension, power: number): Dimension =>
  exponents(a.map((exponent) => exponent * power));

/** Exponents to nine places, so that three times 0.1 is 0.3. */
function exponents(values: readonly number[]): Dimension {
  const [length = 0, mass = 0, time = 0, temperature = 0, money = 0] = values.map(
    (value) => Math.round(value * 1e9) / 1e9 + 0,
  );
  return [length, mass, time, temperature, money];
}

/** The measures with a unit that have this dimension, in their standing order. */
export function measuresOf(dimension: Dimension): readonly QuantityMeasure[] {
  const all = Object.keys(quantities) as QuantityMeasure[];
  return all.filter((measure) => sameDimension(dimensionOf(measure), dimension));
}

/** The measure in which a result is kept when nobody asks for one; null when there is none. */
export function defaultMeasure(type: FormulaType): Measure | null {
  switch (type.kind) {
    case "number":
      return isPlain(type) ? "factor" : (measuresOf(type.dimension)[0] ?? null);
    case "boolean":
      return "flag";
    case "date":
      return "date";
    case "text":
      return null;
    default:
      return type satisfies never;
  }
}

/** `a length`, `a plain number`, `yes or no`, `a quantity in money·m^-1`. */
export function describeType(type: FormulaType): string {
  switch (type.kind) {
    case "boolean":
      return "yes or no";
    case "date":
      return "a date";
    case "text":
      return "text";
    case "number": {
      if (isPlain(type)) return "a plain number";
      const [measure] = measuresOf(type.dimension);
      if (measure === undefined) return `a quantity in ${baseUnits(type.dimension)}`;
      if (measure === "duration") return "a time";
      if (measure === "money") return "money";
      const word = measure.replace("_", " ");
      return `${word === "area" ? "an" : "a"} ${word}`;
    }
    default:
      return type satisfies never;
  }
}

function baseUnits(dimension: Dimension): string {
  const names = ["m", "kg", "s", "K", "money"];
  const parts = dimension
    .map((exponent, i) => ({ name: names[i], exponent }))
    .filter((part) => part.exponent !== 0);
  // Positive powers first: money·m^-1.
  const ordered = [
    ...parts.filter((part) => part.exponent > 0),
    ...parts.filter((part) => part.exponent < 0),
  ];
  return ordered.map(({ name, exponent }) => (exponent === 1 ? name : `${name}^${exponent}`)).join("·");
}
