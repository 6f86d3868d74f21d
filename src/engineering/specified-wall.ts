import { type Millimetres, millimetres } from "../quantity/si.ts";

/** The three thicknesses a reader must see apart, and which of the first two asked for the third. */
export interface SpecifiedWall {
  readonly kind: "specified";
  readonly calculated: Millimetres;
  readonly specifiedMinimum: Millimetres;
  /** The least stocked thickness that satisfies both. */
  readonly stocked: Millimetres;
  readonly governedBy: "calculation" | "specified-minimum";
}

export interface NothingThickEnough {
  readonly kind: "refused";
  readonly because: "no-stocked-thickness";
  readonly needed: Millimetres;
  /** Null when nothing is stocked at all. */
  readonly largestStocked: Millimetres | null;
}

/** Thicknesses closer than this are one thickness: far below what is made or measured, far above rounding of the sum. */
const SAME_THICKNESS = 1e-9;

/**
 * Rounds the calculated wall up to what the specification accepts and the supplier makes.
 *
 * At lateral size the specified minimum (3 to 4.5 mm in cities' bid documents) usually governs, so both are kept.
 * Source: "then rounded up to a manufactured step", "Trenchless Technology Piping: Installation and Inspection"
 * (McGraw-Hill/WEF/ASCE, 2010), p. 80; the minimum and the steps belong to the specification and the supplier.
 * The stocked list may come in any order.
 */
export function specifyWall(
  calculated: Millimetres,
  specifiedMinimum: Millimetres,
  stocked: readonly Millimetres[],
): SpecifiedWall | NothingThickEnough {
  const needed = calculated > specifiedMinimum ? calculated : specifiedMinimum;
  let chosen: Millimetres | null = null;
  let largest: Millimetres | null = null;
  for (const thickness of stocked) {
    if (largest === null || thickness > largest) largest = thickness;
    if (thickness >= needed - SAME_THICKNESS && (chosen === null || thickness < chosen)) chosen = thickness;
  }
  if (chosen === null)
    return { kind: "refused", because: "no-stocked-thickness", needed, largestStocked: largest };
  return {
    kind: "specified",
    calculated,
    specifiedMinimum,
    stocked: chosen,
    governedBy: calculated > specifiedMinimum ? "calculation" : "specified-minimum",
  };
}

/**
 * Thicknesses made in equal steps from a least one: least, least + step, … up to the largest.
 *
 * Example: a city's bid document asks for 3.5 mm and steps of 0.7 mm (Nashua NH, 2019). Each is built from its own
 * multiple, not by adding up, so the tenth is as exact as the first.
 */
export function steppedThicknesses(
  least: Millimetres,
  step: Millimetres,
  largest: Millimetres,
): readonly Millimetres[] {
  if (!(least > 0 && step > 0 && largest < Number.POSITIVE_INFINITY)) {
    throw new RangeError(
      `steppedThicknesses needs a least and a step above 0 mm and a finite largest, got ${least}, ${step}, ${largest}`,
    );
  }
  const count = Math.floor((largest - least) / step + SAME_THICKNESS) + 1;
  return Array.from({ length: Math.max(0, count) }, (_, i) => millimetres(least + i * step));
}
