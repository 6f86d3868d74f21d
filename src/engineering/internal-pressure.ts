import {
  type Kilopascals,
  kilopascals,
  type Megapascals,
  type Metres,
  type Millimetres,
} from "../quantity/si.ts";
import { hydrostaticPressure } from "./groundwater.ts";
import type { Deterioration } from "./liner-wall.ts";

/**
 * Everything in this file is FROM MEMORY of ASTM F1216 Appendix X1 (its internal-pressure part), unverified: a
 * rough check that a gravity liner outlives a backed-up sewer, not the design of a pressure pipe.
 */
export interface SurchargedLiner {
  readonly deterioration: Deterioration;
  /** D, mean inside diameter of the host. */
  readonly hostDiameter: Millimetres;
  readonly wall: Millimetres;
  /** d, the largest hole in the host that the liner spans; 0 when there is none. */
  readonly holeDiameter: Millimetres;
  /** σ_L, long-term flexural strength. */
  readonly flexuralStrength: Megapascals;
  /** σ_TL, long-term tensile strength. */
  readonly tensileStrength: Megapascals;
  readonly safetyFactor: number;
}

export interface SurchargeCheck {
  /** Largest d/D that still bends as a flat plate. */
  readonly holeLimit: number;
  readonly mode: "flat-plate" | "ring-tension";
  readonly capacity: Kilopascals;
  readonly pressure: Kilopascals;
  readonly holds: boolean;
  readonly basis: "from memory, unverified";
}

/**
 * Whether a liner holds the inside pressure of a backed-up sewer.
 *
 *   flat plate over a hole, when d/D ≤ 1.83 · (t/D)^½:   P = 5.33 / (DR − 1)² · (D/d)² · σ_L / N
 *   otherwise, and always in a fully deteriorated host:  P = 2 · σ_TL / ((DR − 2) · N)
 *
 * Source: FROM MEMORY, unverified. Without a hole the ring form is used (ours: the host's help is not counted).
 * Holds for: gravity pipe under a head of water; head measured above the invert.
 *
 * @throws RangeError when the sizes or strengths cannot be.
 */
export function checkSurcharge(liner: SurchargedLiner, head: Metres): SurchargeCheck {
  const { hostDiameter, wall, holeDiameter, safetyFactor } = liner;
  if (!(wall > 0 && wall < hostDiameter / 2 && holeDiameter >= 0 && head >= 0)) {
    throw new RangeError(
      `checkSurcharge needs 0 < t < D/2, d ≥ 0 and head ≥ 0, got ${JSON.stringify({ ...liner, head })}`,
    );
  }
  if (!(liner.flexuralStrength > 0 && liner.tensileStrength > 0 && safetyFactor >= 1)) {
    throw new RangeError(
      `checkSurcharge needs strengths above 0 MPa and N ≥ 1, got ${JSON.stringify(liner)}`,
    );
  }
  const ratio = hostDiameter / wall;
  const holeLimit = 1.83 * Math.sqrt(1 / ratio);
  const isPlate =
    liner.deterioration === "partially" && holeDiameter > 0 && holeDiameter / hostDiameter <= holeLimit;
  const capacity = kilopascals(
    isPlate
      ? ((5.33 / (ratio - 1) ** 2) * (hostDiameter / holeDiameter) ** 2 * liner.flexuralStrength * 1000) /
          safetyFactor
      : (2 * liner.tensileStrength * 1000) / ((ratio - 2) * safetyFactor),
  );
  const pressure = hydrostaticPressure(head);
  return {
    holeLimit,
    mode: isPlate ? "flat-plate" : "ring-tension",
    capacity,
    pressure,
    holds: pressure <= capacity,
    basis: "from memory, unverified",
  };
}
