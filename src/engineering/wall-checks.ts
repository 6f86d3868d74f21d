import { KILOPASCALS_PER_PSI } from "../quantity/factors.ts";
import {
  type Fraction,
  type Kilopascals,
  kilopascals,
  type Megapascals,
  type Millimetres,
  millimetres,
} from "../quantity/si.ts";

/**
 * The four checks of ASTM F1216 Appendix X1 for gravity pipe, each solved for the wall and, beside it, the forward
 * equation: what a given wall carries.
 *
 * "Handbook" below is "Trenchless Technology Piping: Installation and Inspection", McGraw-Hill/WEF/ASCE, 2010,
 * chapter 2, which restates F1216-09. Throughout: D is the host's mean inside diameter (the liner's outside), t the
 * wall, DR = D/t, C the ovality reduction factor, N the safety factor, q the ovality as a fraction.
 */

/** F1216-07b (June 2007) moved C into the root of X1.3, which made walls thinner by C^(1/3). Results carry the edition. */
export type Edition = "2007b and later" | "before 2007b";

/** Least ring stiffness E·I/D³ of X1.4: 0.093 psi (0.641 kPa). Source: Handbook, p. 77. */
export const LEAST_STIFFNESS = kilopascals(0.093 * KILOPASCALS_PER_PSI);

/** What free-ring buckling (X1.1) needs to know besides the pipe. */
export interface FreeRing {
  /** C */
  readonly reduction: number;
  /** E_L, long-term flexural modulus. */
  readonly modulus: Megapascals;
  /** K, 7 in the source. */
  readonly enhancement: number;
  /** ν, 0.3 in the source. */
  readonly poissonsRatio: number;
  /** N, 1.5 to 2 in the source. */
  readonly safetyFactor: number;
}

/**
 * X1.1, wall that carries outside water without buckling.
 *
 *   P = 2·K·E_L / (1 − ν²) · 1 / (DR − 1)³ · C / N      →      t = D / ( [2·K·E_L·C / (P·N·(1 − ν²))]^(1/3) + 1 )
 *
 * P: water pressure over the INVERT. Source: Handbook, p. 82. No water needs no wall: 0.
 */
export function bucklingWall(diameter: Millimetres, pressure: Kilopascals, ring: FreeRing): Millimetres {
  if (pressure === 0) return millimetres(0);
  return millimetres(diameter / (Math.cbrt(freeRingStrength(ring) / pressure) + 1));
}

/** X1.1 forward: the water pressure a wall carries (equation and source: `bucklingWall`). */
export function bucklingPressure(diameter: Millimetres, wall: Millimetres, ring: FreeRing): Kilopascals {
  return kilopascals(freeRingStrength(ring) / (diameter / wall - 1) ** 3);
}

/** 2·K·E_L·C / (N·(1 − ν²)), kPa. */
function freeRingStrength({
  reduction,
  modulus,
  enhancement,
  poissonsRatio,
  safetyFactor,
}: FreeRing): number {
  return (
    (2 * enhancement * modulus * 1000 * reduction) / (safetyFactor * (1 - poissonsRatio * poissonsRatio))
  );
}

/**
 * X1.2, wall that carries the bending of an out-of-round ring.
 *
 *   1.5·q·(1 + q)·DR² − 0.5·(1 + q)·DR = σ_L / (P·N)
 *
 * The positive root, written so that nothing cancels: t/D = 2a / (b + √(b² + 4·a·s)), a = 1.5·q·(1 + q),
 * b = 0.5·(1 + q), s = σ_L/(P·N). A round pipe (q = 0) gives 0: the check does not govern (ours; the printed
 * quadratic degenerates there).
 * P: water pressure over the INVERT. σ_L: flexural strength; F1216 means the LONG-term one (FROM MEMORY), the
 * Handbook computes with the short-term one. Source: Handbook, pp. 80 and 83.
 */
export function bendingWall(
  diameter: Millimetres,
  pressure: Kilopascals,
  ovality: Fraction,
  strength: Megapascals,
  safetyFactor: number,
): Millimetres {
  if (pressure === 0) return millimetres(0);
  const a = 1.5 * ovality * (1 + ovality);
  const b = 0.5 * (1 + ovality);
  const s = (strength * 1000) / (pressure * safetyFactor);
  return millimetres((diameter * 2 * a) / (b + Math.sqrt(b * b + 4 * a * s)));
}

/** X1.2 forward: the pressure a wall carries; Infinity where the check cannot govern (source: `bendingWall`). */
export function bendingPressure(
  diameter: Millimetres,
  wall: Millimetres,
  ovality: Fraction,
  strength: Megapascals,
  safetyFactor: number,
): Kilopascals {
  const ratio = diameter / wall;
  const stress = 1.5 * ovality * (1 + ovality) * ratio * ratio - 0.5 * (1 + ovality) * ratio;
  return kilopascals(stress > 0 ? (strength * 1000) / (safetyFactor * stress) : Number.POSITIVE_INFINITY);
}

/** What buckling in the soil (X1.3) needs to know besides the pipe and its load. */
export interface SoilRing {
  readonly edition: Edition;
  /** R_w */
  readonly waterBuoyancy: number;
  /** B′ */
  readonly soilSupport: number;
  /** E′_s, modulus of soil reaction. */
  readonly soilModulus: Megapascals;
  /** C */
  readonly reduction: number;
  /** E_L, long-term flexural modulus. */
  readonly modulus: Megapascals;
  /** N */
  readonly safetyFactor: number;
}

/**
 * X1.3, wall that carries soil, water over the crown and traffic, the host carrying nothing. I = t³/12.
 *
 *   since 2007b:   q_t = (1/N) · [ 32·R_w·B′·E′_s·C·(E_L·I/D³) ]^(1/2)
 *              →   t = D · [ (12/32) · (N·q_t)² / (E_L·R_w·B′·C·E′_s) ]^(1/3)        (12/32)^(1/3) = 0.721
 *   before 2007b:  C stands outside the root, which puts C² in the place of C
 *
 * Source: the newer form Handbook, pp. 75-77. That 2007b changed the ovality factor and made walls thinner: abstract
 * of "CIPP liner thickness changes under F1216-07b", No-Dig 2008; the older form itself FROM MEMORY, unverified.
 */
export function soilBucklingWall(diameter: Millimetres, load: Kilopascals, ring: SoilRing): Millimetres {
  const needed = (ring.safetyFactor * load) / 1000;
  return millimetres(diameter * Math.cbrt((12 / 32) * ((needed * needed) / soilRingStrength(ring))));
}

/** X1.3 forward: the total external load a wall carries (equations and sources: `soilBucklingWall`). */
export function soilBucklingLoad(diameter: Millimetres, wall: Millimetres, ring: SoilRing): Kilopascals {
  const inertia = (wall / diameter) ** 3 / 12;
  return kilopascals((1000 * Math.sqrt(32 * soilRingStrength(ring) * inertia)) / ring.safetyFactor);
}

/** R_w·B′·E′_s·C·E_L (or C² in the older form), MPa². */
function soilRingStrength(ring: SoilRing): number {
  const ovality = ring.edition === "2007b and later" ? ring.reduction : ring.reduction * ring.reduction;
  return ring.waterBuoyancy * ring.soilSupport * ring.soilModulus * ovality * ring.modulus;
}

/**
 * X1.4, wall with the least ring stiffness.
 *
 *   E·I/D³ = E / (12·DR³) ≥ 0.093 psi
 *
 * E: SHORT-term flexural modulus. Source: Handbook, p. 77.
 */
export function stiffnessWall(diameter: Millimetres, shortTermModulus: Megapascals): Millimetres {
  return millimetres(diameter * Math.cbrt((12 * LEAST_STIFFNESS) / (shortTermModulus * 1000)));
}

/** X1.4 forward: the ring stiffness E·I/D³ of a wall (source: `stiffnessWall`). */
export function ringStiffness(
  diameter: Millimetres,
  wall: Millimetres,
  shortTermModulus: Megapascals,
): Kilopascals {
  return kilopascals(((shortTermModulus * 1000) / 12) * (wall / diameter) ** 3);
}
