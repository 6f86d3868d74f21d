import { LITRES_PER_CUBIC_METRE } from "../quantity/factors.ts";
import {
  type Litres,
  litres,
  type Metres,
  type Millimetres,
  type SquareMetres,
  squareMetres,
} from "../quantity/si.ts";

/**
 * Cross-section of a liner wall pressed outward against its host.
 *
 *   A = π·(D − t)·t ,   D host inside diameter, t wall thickness
 *
 * Source: geometry, the ring between diameters D and D − 2t.
 * Holds for: a round host, a wall of even thickness, 0 < t ≤ D/2.
 * The flat-sheet alternative π·D·t overstates this by t/(D − t): 3 % for a 4 in host and a 3 mm wall.
 */
export function wallArea(hostDiameter: Millimetres, thickness: Millimetres): SquareMetres {
  if (!(thickness > 0 && thickness <= hostDiameter / 2))
    throw new RangeError(
      `wallArea needs a thickness above 0 and up to half of the host, got ${thickness} mm in ${hostDiameter} mm`,
    );
  return squareMetres((Math.PI * (hostDiameter - thickness) * thickness) / 1e6);
}

/** Wall volume in litres per metre of liner: `wallArea` in m² times 1000. */
export const wallLitresPerMetre = (hostDiameter: Millimetres, thickness: Millimetres): number =>
  wallArea(hostDiameter, thickness) * LITRES_PER_CUBIC_METRE;

/** Wall volume of a length of liner, V = A·L. The length is the tube's, with its run-in and run-out, not the host's. */
export function wallVolume(hostDiameter: Millimetres, thickness: Millimetres, tubeLength: Metres): Litres {
  if (!(tubeLength >= 0)) throw new RangeError(`wallVolume needs a length of 0 m or more, got ${tubeLength}`);
  return litres(wallLitresPerMetre(hostDiameter, thickness) * tubeLength);
}
