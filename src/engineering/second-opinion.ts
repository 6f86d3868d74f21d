import { type Kilopascals, kilopascals, type Millimetres, millimetres } from "../quantity/si.ts";
import { bucklingWall, type FreeRing } from "./wall-checks.ts";

/** Exponent of Glock's formula. FROM MEMORY, unverified. */
const GLOCK_EXPONENT = 2.2;

/** Free-ring buckling (X1.1) and Glock's close-fit buckling side by side: a cross-check, never the design. */
export interface SecondOpinion {
  readonly appendixWall: Millimetres;
  readonly glockWall: Millimetres;
  /** Glock's wall over the appendix's: above 1, the appendix's wall is the thinner. */
  readonly ratio: number;
  /** DR of the appendix's wall. */
  readonly dimensionRatio: number;
  /** The enhancement factor that would make X1.1 agree with Glock at this DR. */
  readonly impliedEnhancement: number;
  /** The enhancement factor in use is larger than that: X1.1 is not on the safe side of Glock (K = 7: DR below about 28). */
  readonly isEnhancementUnsafe: boolean;
}

/**
 * Wall against outside water by a second theory of a liner held in its host.
 *
 *   p_cr = E_L / (1 − ν²) · (t / D_m)^2.2 · C / N ,   D_m = D − t      →      t/D_m = [P·N·(1 − ν²) / (E_L·C)]^(1/2.2)
 *
 * Source: Glock 1977, formula FROM MEMORY; no published check value could be read, so this is a cross-check only.
 * That Glock's model fits experiments best of those compared: J. Transp. Eng. 1997. Glock has neither C nor N;
 * both are carried over from X1.1 (ours), so that the two walls differ by the theory alone.
 * Holds for: perfect fit, no gap, no friction; a gap or a fold lowers the true strength.
 * No water: null, there is nothing to compare.
 */
export function takeSecondOpinion(
  diameter: Millimetres,
  pressure: Kilopascals,
  ring: FreeRing,
): SecondOpinion | null {
  if (!(pressure > 0)) return null;
  const appendixWall = bucklingWall(diameter, pressure, ring);
  const slenderness = (pressure / glockStrength(ring)) ** (1 / GLOCK_EXPONENT);
  const glockWall = millimetres((diameter * slenderness) / (1 + slenderness));
  const dimensionRatio = diameter / appendixWall;
  const impliedEnhancement = impliedByGlock(dimensionRatio);
  return {
    appendixWall,
    glockWall,
    ratio: glockWall / appendixWall,
    dimensionRatio,
    impliedEnhancement,
    isEnhancementUnsafe: ring.enhancement > impliedEnhancement,
  };
}

/** Glock forward: the water pressure a wall carries (equation and source: `takeSecondOpinion`). */
export function glockPressure(diameter: Millimetres, wall: Millimetres, ring: FreeRing): Kilopascals {
  return kilopascals(glockStrength(ring) * (wall / (diameter - wall)) ** GLOCK_EXPONENT);
}

/**
 * Enhancement factor at which X1.1 equals Glock, with D_m = D − t: K = ½ · (DR − 1)^0.8.
 *
 * Source: ours, by dividing the two equations; independent of E, ν, C and N.
 */
export function impliedByGlock(dimensionRatio: number): number {
  return 0.5 * (dimensionRatio - 1) ** (3 - GLOCK_EXPONENT);
}

/** E_L·C / (N·(1 − ν²)), kPa. */
function glockStrength({ modulus, poissonsRatio, reduction, safetyFactor }: FreeRing): number {
  return (modulus * 1000 * reduction) / (safetyFactor * (1 - poissonsRatio * poissonsRatio));
}
