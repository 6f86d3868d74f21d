import { toShown, type UnitSystem } from "../quantity/measure.ts";
import { unitLabel } from "../quantity/show-quantity.ts";

/** An equation with its numbers put in: what is printed can be worked out again with a pocket calculator. */
export interface Worked {
  /** What is worked out: `q_t`, `R_w`. */
  readonly symbol: string;
  readonly equation: string;
  readonly substitution: string;
  readonly result: string;
  /** Of the result, as printed; empty for a plain number. */
  readonly unit: string;
}

/** Digits of a number put into an equation: enough that working it out again gives every digit of the result. */
const PUT_IN = 5;
const RESULT = 4;

/** Significant digits without an exponent, thousands apart: `125,000`, `0.83575`. */
export function digits(value: number, count: number = PUT_IN): string {
  if (value === 0) return "0";
  const rounded = Number(value.toPrecision(count));
  const decimals = Math.max(0, count - 1 - Math.floor(Math.log10(Math.abs(rounded))));
  const [whole = "", part = ""] = Math.abs(rounded).toFixed(Math.min(decimals, 100)).split(".");
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, ",");
  const trimmed = part.replace(/0+$/, "");
  return `${rounded < 0 ? "−" : ""}${grouped}${trimmed === "" ? "" : `.${trimmed}`}`;
}

export const work = (
  symbol: string,
  equation: string,
  substitution: string,
  result: number,
  unit = "",
): Worked => ({ symbol, equation, substitution, result: digits(result, RESULT), unit });

/** The worked equation on one line; what is taken as it stands has nothing to put in. */
export const workedText = ({ equation, substitution, result, unit }: Worked): string =>
  [equation, substitution, `${result}${unit === "" ? "" : ` ${unit}`}`]
    .filter((part) => part !== "")
    .join(" = ");

/** The numbers of a unit system as the equations take them: sizes in in or mm, depths in ft or m, stresses in psi or MPa. */
export function equationUnits(system: UnitSystem) {
  const style = { units: system, currency: "" };
  return {
    size: (mm: number) => toShown(mm, "diameter", system),
    depth: (m: number) => toShown(m, "length", system),
    pressure: (kPa: number) => toShown(kPa, "pressure", system),
    /** A pressure in the unit of the moduli. */
    stress: (kPa: number) => toShown(kPa / 1000, "modulus", system),
    modulus: (MPa: number) => toShown(MPa, "modulus", system),
    weight: (kN: number) => toShown(kN, "unit_weight", system),
    force: (N: number) => toShown(N, "force", system),
    labels: {
      size: unitLabel("diameter", style),
      depth: unitLabel("length", style),
      pressure: unitLabel("pressure", style),
      modulus: unitLabel("modulus", style),
      force: unitLabel("force", style),
    },
  };
}

export type EquationUnits = ReturnType<typeof equationUnits>;
