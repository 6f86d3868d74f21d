import { type Metres, type Millimetres, metres } from "../quantity/si.ts";

/**
 * Length of tube that bends use up beyond the centre line of the host: the wall on the outside of a bend of angle θ runs
 * on the radius r + D/2 where the centre line runs on r.
 *
 *   ΔL = n · θ · D/2,   θ in radians
 *
 * Geometry of circular arcs; holds for any radius of bend, of a tube that lies on the outside wall of the host.
 */
export function bendLength(bends: number, degrees: number, diameter: Millimetres): Metres {
  if (!(Number.isInteger(bends) && bends >= 0 && degrees >= 0 && degrees <= 180 && diameter > 0))
    throw new RangeError(
      `bendLength needs whole bends, 0 to 180 degrees and a diameter, got ${bends}, ${degrees}, ${diameter}`,
    );
  return metres((bends * ((degrees * Math.PI) / 180) * diameter) / 2 / 1000);
}
