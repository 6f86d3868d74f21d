import {
  type Fraction,
  type KilonewtonsPerCubicMetre,
  type Kilopascals,
  type Megapascals,
  type Metres,
  type Millimetres,
  megapascals,
  millimetres,
} from "../quantity/si.ts";
import { hydrostaticPressure, waterBuoyancyFactor } from "./groundwater.ts";
import { LARGEST_OVALITY, ovalityReduction } from "./ovality.ts";
import { soilPrismLoad, soilSupport, totalExternalLoad } from "./soil-load.ts";
import { type LiveLoadMethod, liveLoad } from "./surface-load.ts";
import {
  bendingWall,
  bucklingWall,
  type Edition,
  type FreeRing,
  soilBucklingWall,
  stiffnessWall,
} from "./wall-checks.ts";

/** Short- and long-term (50 year) flexural properties of the cured liner. */
export interface LinerMaterial {
  readonly shortTermModulus: Megapascals;
  readonly longTermModulus: Megapascals;
  readonly shortTermStrength: Megapascals;
  readonly longTermStrength: Megapascals;
}

/**
 * A material from its short-term flexural values and the parts of them kept in the long term.
 *
 * Source: 50 % of the modulus is the usual retention, 50-75 % the range, above 50 % only with creep tests
 * ("Trenchless Technology Piping", 2010, pp. 77, 86, 87). A retention for the strength is FROM MEMORY of practice,
 * unverified.
 */
export function retainedMaterial(
  modulus: Megapascals,
  strength: Megapascals,
  modulusRetention: Fraction,
  strengthRetention: Fraction,
): LinerMaterial {
  return {
    shortTermModulus: modulus,
    longTermModulus: megapascals(modulus * modulusRetention),
    shortTermStrength: strength,
    longTermStrength: megapascals(strength * strengthRetention),
  };
}

/** What the specification or the engineer fixes for every pipe. */
export interface WallCriteria {
  readonly edition: Edition;
  /** "long term" is what F1216 means (FROM MEMORY); "short term" only reproduces the handbook's worked examples. */
  readonly strengthBasis: "long term" | "short term";
  /** K, 7 in the source. */
  readonly enhancement: number;
  /** ν, 0.3 in the source. */
  readonly poissonsRatio: number;
  /** N, 2 (1.5 to 2) in the source. */
  readonly safetyFactor: number;
  /** Largest DR of a partially deteriorated design, about 100 where there is no water. FROM MEMORY of F1216, unverified. */
  readonly largestRatio: number;
}

/** Partially: the host carries soil and traffic for the liner's life. Fully: the liner carries them. */
export type Deterioration = "partially" | "fully";

export interface WallInputs {
  readonly deterioration: Deterioration;
  /** D, mean inside diameter of the host. */
  readonly hostDiameter: Millimetres;
  readonly ovality: Fraction;
  /** Surface to crown. */
  readonly cover: Metres;
  /** H_w of the external load; see `groundwaterHeads`. */
  readonly headOverCrown: Metres;
  /** Head of the buckling pressure P; see `groundwaterHeads`. */
  readonly headOverInvert: Metres;
  readonly soilUnitWeight: KilonewtonsPerCubicMetre;
  /** E′_s */
  readonly soilModulus: Megapascals;
  readonly liveLoad: LiveLoadMethod;
  readonly material: LinerMaterial;
  readonly criteria: WallCriteria;
}

/** The checks by name, in the order in which a tie is settled. */
export type WallCheck = "buckling" | "bending" | "soil-buckling" | "stiffness" | "largest-ratio";

/** The load side of X1.3, only for a fully deteriorated host. */
export interface ExternalLoad {
  /** R_w */
  readonly waterBuoyancy: number;
  /** B′ */
  readonly soilSupport: number;
  readonly water: Kilopascals;
  readonly soil: Kilopascals;
  readonly live: Kilopascals;
  /** q_t */
  readonly total: Kilopascals;
}

/** A designed wall with everything that led to it. A null wall is a check that does not apply to this host. */
export interface WallDesign {
  readonly kind: "designed";
  readonly edition: Edition;
  readonly strengthBasis: WallCriteria["strengthBasis"];
  readonly deterioration: Deterioration;
  /** C */
  readonly ovalityReduction: number;
  /** P, from the head over the invert. */
  readonly waterPressure: Kilopascals;
  readonly externalLoad: ExternalLoad | null;
  readonly walls: Readonly<Record<WallCheck, Millimetres | null>>;
  readonly governing: WallCheck;
  /** The thickest of the walls; before any specified minimum or stocked thickness. */
  readonly wall: Millimetres;
  /** DR = D / t */
  readonly dimensionRatio: number;
}

export type PositiveInput = "hostDiameter" | "soilUnitWeight" | "soilModulus";
export type HeadInput = "headOverCrown" | "headOverInvert";

/** Why no wall is given: the inputs are outside what the method covers. */
export type WallRefusal = { readonly kind: "refused" } & (
  | { readonly because: "ovality-outside"; readonly ovality: Fraction; readonly limit: Fraction }
  | { readonly because: "no-cover"; readonly cover: Metres }
  | { readonly because: "not-above-zero"; readonly input: PositiveInput; readonly value: number }
  | { readonly because: "head-below-zero"; readonly input: HeadInput; readonly value: Metres }
  | { readonly because: "heads-disagree"; readonly overCrown: Metres; readonly overInvert: Metres }
  | { readonly because: "live-load-undefined"; readonly cover: Metres }
  | { readonly because: "no-bore-left"; readonly wall: Millimetres; readonly hostDiameter: Millimetres }
);

/**
 * Wall of a full-length liner in a gravity pipe, ASTM F1216 Appendix X1.
 *
 *   partially deteriorated: the thickest of X1.1, X1.2 and D / (largest DR)
 *   fully deteriorated:     the thickest of X1.1, X1.2, X1.3 and X1.4
 *
 * Source: which checks belong to which host, "Trenchless Technology Piping: Installation and Inspection"
 * (McGraw-Hill/WEF/ASCE, 2010), pp. 77-83. The largest DR is FROM MEMORY, for a pipe without groundwater; it is kept
 * with water too (ours), or a little water would give a thinner wall than none.
 * Holds for: gravity pipe, ovality to 10 %, service loads (the safety factor is the only one), host pipe in the
 * stated condition. Published worked examples are for 48 in pipe. Local codes, the specification and a licensed
 * engineer govern.
 *
 * @throws RangeError when material or criteria are not physical: those are a basis somebody should have verified.
 */
export function designWall(inputs: WallInputs): WallDesign | WallRefusal {
  const { deterioration, hostDiameter, ovality, material, criteria } = inputs;
  verifyBasis(material, criteria);
  const refusal = refuseInputs(inputs);
  if (refusal !== null) return refusal;

  const reduction = ovalityReduction(ovality);
  const waterPressure = hydrostaticPressure(inputs.headOverInvert);
  const strength =
    criteria.strengthBasis === "long term" ? material.longTermStrength : material.shortTermStrength;
  const buckling = bucklingWall(hostDiameter, waterPressure, freeRing(reduction, material, criteria));
  const bending = bendingWall(hostDiameter, waterPressure, ovality, strength, criteria.safetyFactor);

  let governing: WallCheck = "buckling";
  let wall = buckling;
  // Set one by one: a pair taken apart, [governing, wall] = [...], is an iterator's work, and made this twice as long for the engine.
  if (bending > wall) {
    governing = "bending";
    wall = bending;
  }

  let externalLoad: ExternalLoad | null = null;
  let soilBuckling: Millimetres | null = null;
  let stiffness: Millimetres | null = null;
  let largestRatio: Millimetres | null = null;
  if (deterioration === "fully") {
    externalLoad = loadOnCrown(inputs);
    if (externalLoad === null) {
      return { kind: "refused", because: "live-load-undefined", cover: inputs.cover };
    }
    soilBuckling = soilBucklingWall(hostDiameter, externalLoad.total, {
      edition: criteria.edition,
      waterBuoyancy: externalLoad.waterBuoyancy,
      soilSupport: externalLoad.soilSupport,
      soilModulus: inputs.soilModulus,
      reduction,
      modulus: material.longTermModulus,
      safetyFactor: criteria.safetyFactor,
    });
    if (soilBuckling > wall) {
      governing = "soil-buckling";
      wall = soilBuckling;
    }
    stiffness = stiffnessWall(hostDiameter, material.shortTermModulus);
    if (stiffness > wall) {
      governing = "stiffness";
      wall = stiffness;
    }
  } else {
    largestRatio = millimetres(hostDiameter / criteria.largestRatio);
    if (largestRatio > wall) {
      governing = "largest-ratio";
      wall = largestRatio;
    }
  }
  if (!(wall < hostDiameter / 2)) return { kind: "refused", because: "no-bore-left", wall, hostDiameter };

  return {
    kind: "designed",
    edition: criteria.edition,
    strengthBasis: criteria.strengthBasis,
    deterioration,
    ovalityReduction: reduction,
    waterPressure,
    externalLoad,
    walls: { buckling, bending, "soil-buckling": soilBuckling, stiffness, "largest-ratio": largestRatio },
    governing,
    wall,
    dimensionRatio: hostDiameter / wall,
  };
}

/** The terms of X1.1 that come from the material and the criteria. */
export function freeRing(reduction: number, material: LinerMaterial, criteria: WallCriteria): FreeRing {
  return {
    reduction,
    modulus: material.longTermModulus,
    enhancement: criteria.enhancement,
    poissonsRatio: criteria.poissonsRatio,
    safetyFactor: criteria.safetyFactor,
  };
}

type Burial = Pick<WallInputs, "cover" | "headOverCrown" | "soilUnitWeight" | "liveLoad" | "hostDiameter">;

/**
 * The load side of X1.3 at one cover, or null where the live-load method says nothing.
 *
 * @throws RangeError when the method's own data give a load that is negative or not a number.
 */
export function loadOnCrown({
  cover,
  headOverCrown,
  soilUnitWeight,
  liveLoad: method,
  hostDiameter,
}: Burial): ExternalLoad | null {
  const live = liveLoad(method, cover, hostDiameter);
  if (live === null) return null;
  if (!isZeroOrMore(live)) {
    throw new RangeError(`live load must be 0 kPa or more, got ${live} from ${JSON.stringify(method)}`);
  }
  const waterBuoyancy = waterBuoyancyFactor(headOverCrown, cover);
  const water = hydrostaticPressure(headOverCrown);
  const soil = soilPrismLoad(cover, soilUnitWeight, waterBuoyancy);
  return {
    waterBuoyancy,
    soilSupport: soilSupport(cover),
    water,
    soil,
    live,
    total: totalExternalLoad(water, soil, live),
  };
}

function refuseInputs(inputs: WallInputs): WallRefusal | null {
  const { deterioration, hostDiameter, ovality, cover, headOverCrown, headOverInvert } = inputs;
  if (!isPositive(hostDiameter)) return notAboveZero("hostDiameter", hostDiameter);
  if (!(ovality >= 0 && ovality <= LARGEST_OVALITY)) {
    return { kind: "refused", because: "ovality-outside", ovality, limit: LARGEST_OVALITY };
  }
  if (!isZeroOrMore(headOverCrown)) return headBelowZero("headOverCrown", headOverCrown);
  if (!isZeroOrMore(headOverInvert)) return headBelowZero("headOverInvert", headOverInvert);
  if (headOverCrown > headOverInvert) {
    return {
      kind: "refused",
      because: "heads-disagree",
      overCrown: headOverCrown,
      overInvert: headOverInvert,
    };
  }
  // A host that still carries soil and traffic is designed for water alone: cover and soil are not asked.
  if (deterioration === "partially") return null;
  if (!isPositive(cover)) return { kind: "refused", because: "no-cover", cover };
  if (!isPositive(inputs.soilUnitWeight)) return notAboveZero("soilUnitWeight", inputs.soilUnitWeight);
  if (!isPositive(inputs.soilModulus)) return notAboveZero("soilModulus", inputs.soilModulus);
  return null;
}

const isPositive = (value: number): boolean => value > 0 && value < Number.POSITIVE_INFINITY;
const isZeroOrMore = (value: number): boolean => value >= 0 && value < Number.POSITIVE_INFINITY;

const notAboveZero = (input: PositiveInput, value: number): WallRefusal => ({
  kind: "refused",
  because: "not-above-zero",
  input,
  value,
});
const headBelowZero = (input: HeadInput, value: Metres): WallRefusal => ({
  kind: "refused",
  because: "head-below-zero",
  input,
  value,
});

function verifyBasis(material: LinerMaterial, criteria: WallCriteria): void {
  const { shortTermModulus, longTermModulus, shortTermStrength, longTermStrength } = material;
  if (
    !(
      isPositive(shortTermModulus) &&
      isPositive(longTermModulus) &&
      isPositive(shortTermStrength) &&
      isPositive(longTermStrength)
    )
  ) {
    throw new RangeError(
      `designWall needs moduli and strengths above 0 MPa, got ${JSON.stringify(material)}`,
    );
  }
  const { enhancement, poissonsRatio, safetyFactor, largestRatio } = criteria;
  if (
    !(
      isPositive(enhancement) &&
      poissonsRatio >= 0 &&
      poissonsRatio < 0.5 &&
      safetyFactor >= 1 &&
      isPositive(largestRatio)
    )
  ) {
    throw new RangeError(
      `designWall needs K > 0, 0 ≤ ν < 0.5, N ≥ 1 and DR > 0, got ${JSON.stringify(criteria)}`,
    );
  }
}
