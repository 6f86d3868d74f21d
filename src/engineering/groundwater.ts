import { KILONEWTONS_PER_CUBIC_METRE_PER_PCF } from "../quantity/factors.ts";
import {
  type Kilopascals,
  kilonewtonsPerCubicMetre,
  kilopascals,
  type Metres,
  type Millimetres,
  metres,
} from "../quantity/si.ts";

/**
 * Unit weight of fresh water: 62.4 lbf/ft³, converted exactly (9.802 kN/m³), so that published US examples
 * reproduce. The SI print of the same equations uses 9.81, which is 0.08 % more; the US print rounds 62.4/144 to
 * 0.433 psi per foot, which is 0.08 % less. One constant serves both.
 */
export const WATER_UNIT_WEIGHT = kilonewtonsPerCubicMetre(62.4 * KILONEWTONS_PER_CUBIC_METRE_PER_PCF);

/** Least value of the water buoyancy factor (source: see `waterBuoyancyFactor`). */
const LEAST_BUOYANCY_FACTOR = 0.67;

/** Where the ground's water stands, measured down from the surface; a negative depth is standing water. */
export type Groundwater =
  | { readonly kind: "none" }
  | { readonly kind: "table"; readonly depthBelowSurface: Metres };

/**
 * The two heads the design needs, never one for the other: the load on a fully deteriorated pipe counts water over
 * the crown, free-ring buckling counts water over the invert.
 */
export interface GroundwaterHeads {
  readonly overCrown: Metres;
  readonly overInvert: Metres;
}

/**
 * Heads at one point of the pipe, from the depth of the water table.
 *
 *   over the crown  = max(0, cover − depth)          over the invert = max(0, cover + D − depth)
 *
 * So the invert head is the crown head plus D when the crown is under water, and part of D when only the invert is.
 * cover: surface to crown, m. D: crown to invert, mm; the host's inside diameter unless the caller knows better.
 * Source: definitions of the two heads in "Trenchless Technology Piping" (2010), pp. 75-76 (crown) and 82, 87 (invert).
 */
export function groundwaterHeads(water: Groundwater, cover: Metres, diameter: Millimetres): GroundwaterHeads {
  if (water.kind === "none") return NO_HEADS;
  const overCrown = cover - water.depthBelowSurface;
  const overInvert = overCrown + diameter / 1000;
  return { overCrown: headOver(overCrown), overInvert: headOver(overInvert) };
}

/** What is less is the last bits of depths written in decimals: water exactly at the invert would ask for a wall of its own. m. */
const LEAST_HEAD = 1e-9;

/** A cover that is not a number stays one, for the design to refuse. */
const headOver = (height: number): Metres => metres(height < LEAST_HEAD ? 0 : height);

const NO_HEADS: GroundwaterHeads = { overCrown: metres(0), overInvert: metres(0) };

/**
 * Pressure under a head of still water.
 *
 *   p = γ_w · h
 *
 * Source: "Trenchless Technology Piping" (2010), pp. 76 and 82 (0.433 psi per foot). Holds for: h ≥ 0 (not checked;
 * the design refuses negative heads by name).
 */
export function hydrostaticPressure(head: Metres): Kilopascals {
  return kilopascals(WATER_UNIT_WEIGHT * head);
}

/**
 * Water buoyancy factor: what part of the soil's weight still bears on the pipe below the water table.
 *
 *   R_w = 1 − 0.33 · H_w / H ,  not below 0.67
 *
 * H_w: head over the crown, m. H: cover over the crown, m.
 * Source: F1216-09 Appendix X1 as restated in "Trenchless Technology Piping" (2010), p. 75.
 * Holds for: H above zero; H_w above H (standing water) stays at 0.67.
 */
export function waterBuoyancyFactor(headOverCrown: Metres, cover: Metres): number {
  return Math.max(LEAST_BUOYANCY_FACTOR, 1 - (0.33 * headOverCrown) / cover);
}
