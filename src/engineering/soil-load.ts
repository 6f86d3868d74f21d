import { METRES_PER_FOOT } from "../quantity/factors.ts";
import { type KilonewtonsPerCubicMetre, type Kilopascals, kilopascals, type Metres } from "../quantity/si.ts";

/** Exponent of the soil support factor, per metre: 0.065 per foot, converted exactly (0.2133; the SI print says 0.213). */
const SUPPORT_PER_METRE = 0.065 / METRES_PER_FOOT;

/**
 * Soil prism on the crown, reduced for buoyancy.
 *
 *   p = w · H · R_w
 *
 * w: soil unit weight, kN/m³. H: cover over the crown, m. R_w: `waterBuoyancyFactor`.
 * Source: second term of q_t, F1216-09 Appendix X1 as restated in "Trenchless Technology Piping: Installation and
 * Inspection" (McGraw-Hill/WEF/ASCE, 2010), pp. 75-76.
 */
export function soilPrismLoad(
  cover: Metres,
  unitWeight: KilonewtonsPerCubicMetre,
  waterBuoyancy: number,
): Kilopascals {
  return kilopascals(unitWeight * cover * waterBuoyancy);
}

/**
 * Coefficient of elastic support B′ in the form of F1216.
 *
 *   B′ = 1 / (1 + 4 · e^(−0.065 · H)) ,  H in feet
 *
 * Source: the same handbook, p. 77 (its p. 75 prints 0.65: a misprint, the worked number 0.414 shows 0.065).
 * Never mix with the other form found in pipe manuals, 4(h² + D·h) / (1.5 (2h + D)²): at 30 in of cover over a
 * 10 in pipe that one is 2.9 times as large.
 */
export function soilSupport(cover: Metres): number {
  return 1 / (1 + 4 * Math.exp(-SUPPORT_PER_METRE * cover));
}

/**
 * Total external load on the crown of a fully deteriorated pipe.
 *
 *   q_t = γ_w · H_w + w · H · R_w + W_s
 *
 * Each term is a pressure already: water over the crown, soil prism, live load with its impact.
 * Source: the same handbook, pp. 75-76.
 */
export function totalExternalLoad(water: Kilopascals, soil: Kilopascals, live: Kilopascals): Kilopascals {
  return kilopascals(water + soil + live);
}
