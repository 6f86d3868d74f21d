import { type Fraction, fraction, type Millimetres } from "../quantity/si.ts";

/**
 * Above 10 % the host is outside the appendix's method and needs another one. FROM MEMORY of ASTM F1216 X1.1.1,
 * unverified.
 */
export const LARGEST_OVALITY = fraction(0.1);

/**
 * Ovality reduction factor: how much of its buckling resistance a liner keeps in an out-of-round host.
 *
 *   C = [ (1 − q) / (1 + q)² ]³
 *
 * q: ovality as a fraction (the source writes it in percent).
 * Source: ASTM F1216-09 Appendix X1 as restated in "Trenchless Technology Piping: Installation and Inspection"
 * (McGraw-Hill/WEF/ASCE, 2010), p. 75 and Table 2.9.
 * Holds for: 0 ≤ q ≤ 0.10; the caller refuses more (`LARGEST_OVALITY`).
 */
export function ovalityReduction(ovality: Fraction): number {
  const kept = (1 - ovality) / ((1 + ovality) * (1 + ovality));
  return kept * kept * kept;
}

export type MeasuredOvality =
  | { readonly kind: "measured"; readonly ovality: Fraction; readonly from: "maximum" | "minimum" }
  | {
      readonly kind: "inconsistent";
      readonly maximum: Millimetres;
      readonly minimum: Millimetres;
      readonly mean: Millimetres;
    };

/**
 * Ovality of a surveyed host, the larger of two forms; the result says which.
 *
 *   q = (D_max − D) / D       and       q = (D − D_min) / D
 *
 * Source: first form as for `ovalityReduction`; the second FROM MEMORY of F1216, unverified.
 * Diameters that do not lie in the order minimum ≤ mean ≤ maximum, all above zero, come back as inconsistent.
 */
export function measuredOvality(
  maximum: Millimetres,
  minimum: Millimetres,
  mean: Millimetres,
): MeasuredOvality {
  if (!(minimum > 0 && minimum <= mean && mean <= maximum && maximum < Number.POSITIVE_INFINITY)) {
    return { kind: "inconsistent", maximum, minimum, mean };
  }
  const byMaximum = (maximum - mean) / mean;
  const byMinimum = (mean - minimum) / mean;
  return byMinimum > byMaximum
    ? { kind: "measured", ovality: fraction(byMinimum), from: "minimum" }
    : { kind: "measured", ovality: fraction(byMaximum), from: "maximum" };
}
