import {
  type Fraction,
  type Kilograms,
  type KilogramsPerLitre,
  kilograms,
  type Litres,
  litres,
  type Metres,
  type Millimetres,
  millimetres,
} from "../quantity/si.ts";
import { wallVolume } from "./wall-volume.ts";

/** Mixed resin to make ready. */
export interface Resin {
  readonly volume: Litres;
  readonly mass: Kilograms;
}

/** A felt tube and the resin that fills it. */
export interface Felt {
  /** Part of the finished wall that is resin. From memory, unverified: 0.85–0.90. */
  readonly voids: Fraction;
  /** Resin over the voids, for shrinkage and for loss into joints. From memory of ASTM F1216 7.2: 0.05–0.10. */
  readonly excess: Fraction;
  /** Density of the mixed resin. */
  readonly density: KilogramsPerLitre;
}

/** A glass-fibre tube and the resin that fills it. */
export interface Glass {
  /** Mass of fibre per mass of laminate. From memory, no source: 0.40–0.60. */
  readonly fibreMassFraction: Fraction;
  readonly fibreDensity: KilogramsPerLitre;
  readonly excess: Fraction;
  readonly density: KilogramsPerLitre;
}

/**
 * Resin for a felt tube, or for an absorbent calibration tube that stays in the pipe.
 *
 *   V_resin = V_wall·v·(1 + x) ,   m = V_resin·ρ
 *
 * Source: the resin fills all voids of the tube plus an allowance for shrinkage and loss (City of Ramsey MN, lateral
 * lining specification of 27 June 2017, section A9, which gives no number; the 5–10 % of ASTM F1216 7.2 is from memory).
 * Holds for: a wall at its nominal thickness and diameter. Small diameters are in practice supplied 15–25 % above this:
 * see `resinFromChart`.
 */
export function resinForFelt(wall: Litres, felt: Felt): Resin {
  verifyWall(wall);
  if (!(felt.voids > 0 && felt.voids <= 1))
    throw new RangeError(`resinForFelt needs voids above 0 and up to 1, got ${felt.voids}`);
  return withExcess(wall * felt.voids, felt.excess, felt.density);
}

/**
 * Resin for a glass-fibre tube whose maker states the fibre content by mass.
 *
 *   v_f = (w/ρ_f) / (w/ρ_f + (1 − w)/ρ_r) ,   V_resin = V_wall·(1 − v_f)·(1 + x)
 *
 * Source: rule of mixtures for a laminate without air.
 * Holds for: 0 ≤ w < 1.
 */
export function resinForGlass(wall: Litres, glass: Glass): Resin {
  verifyWall(wall);
  const { fibreMassFraction: w, fibreDensity, density } = glass;
  if (!(w >= 0 && w < 1 && fibreDensity > 0))
    throw new RangeError(
      `resinForGlass needs a fibre mass fraction from 0 to below 1 and a fibre density, got ${w}, ${fibreDensity} kg/L`,
    );
  const fibre = w / fibreDensity;
  const matrix = (1 - w) / density;
  return withExcess((wall * matrix) / (fibre + matrix), glass.excess, density);
}

/**
 * Wall volume of a permanent calibration tube lying inside the liner: host diameter less two liner walls outside.
 * It takes up resin too, and must be added (ASTM F1743-22, terminology: absorbent, fully saturated).
 */
export const calibrationTubeWall = (
  hostDiameter: Millimetres,
  linerThickness: Millimetres,
  tubeThickness: Millimetres,
  tubeLength: Metres,
): Litres => wallVolume(millimetres(hostDiameter - 2 * linerThickness), tubeThickness, tubeLength);

/**
 * Resin from a shop's own chart of mass per length, which overrules the theory.
 *
 *   m = c·L ,   V = m/ρ
 *
 * Source: the shop. Charts run 15–20 % above the theory for small diameters; no published rule says whether a chart holds
 * the excess, so none is added here.
 */
export function resinFromChart(
  kilogramsPerMetre: number,
  tubeLength: Metres,
  density: KilogramsPerLitre,
): Resin {
  if (!(kilogramsPerMetre > 0 && tubeLength >= 0 && density > 0))
    throw new RangeError(
      `resinFromChart needs kg/m and kg/L above 0 and a length, got ${kilogramsPerMetre}, ${density}, ${tubeLength} m`,
    );
  const mass = kilogramsPerMetre * tubeLength;
  return { volume: litres(mass / density), mass: kilograms(mass) };
}

function withExcess(volume: number, excess: Fraction, density: KilogramsPerLitre): Resin {
  if (!(excess >= 0 && density > 0))
    throw new RangeError(
      `resin needs an excess of 0 or more and a density above 0, got ${excess}, ${density} kg/L`,
    );
  const supplied = volume * (1 + excess);
  return { volume: litres(supplied), mass: kilograms(supplied * density) };
}

function verifyWall(wall: Litres): void {
  if (!(wall >= 0)) throw new RangeError(`resin needs a wall volume of 0 L or more, got ${wall}`);
}
