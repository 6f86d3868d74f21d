/**
 * F1216 Appendix X1 a second time: in US units, with ovality in percent, only with the FORWARD equations (what a wall
 * carries), and the wall found by bisection. Imports nothing of the program and shares no algebra with it.
 *
 * Source of the equations: "Trenchless Technology Piping: Installation and Inspection", McGraw-Hill/WEF/ASCE, 2010,
 * pp. 75-83; the older form of X1.3 from memory.
 */
export interface UsPipe {
  readonly isFully: boolean;
  readonly isOlderEdition: boolean;
  /** in */
  readonly diameter: number;
  /** % */
  readonly ovality: number;
  /** ft, crown */
  readonly cover: number;
  /** ft */
  readonly headOverCrown: number;
  /** ft */
  readonly headOverInvert: number;
  /** lb/ft³ */
  readonly soilUnitWeight: number;
  /** psi */
  readonly soilModulus: number;
  /** psi */
  readonly liveLoad: number;
  /** psi */
  readonly modulus: number;
  /** psi */
  readonly longTermModulus: number;
  /** psi */
  readonly strength: number;
  readonly enhancement: number;
  readonly poissonsRatio: number;
  readonly safetyFactor: number;
  readonly largestRatio: number;
}

const PSI_PER_FOOT = 62.4 / 144;

export function ovalityFactor(percent: number): number {
  return ((1 - percent / 100) / (1 + percent / 100) ** 2) ** 3;
}

/** psi of water over the invert that a wall (in) carries by X1.1. */
export function waterCarried(pipe: UsPipe, wall: number): number {
  const { enhancement: K, longTermModulus: E, poissonsRatio: nu, safetyFactor: N } = pipe;
  const DR = pipe.diameter / wall;
  return ((2 * K * E) / (1 - nu ** 2)) * (1 / (DR - 1) ** 3) * (ovalityFactor(pipe.ovality) / N);
}

/** psi of bending stress in a wall by X1.2, safety factor included. */
export function bendingStress(pipe: UsPipe, wall: number): number {
  const DR = pipe.diameter / wall;
  const q = pipe.ovality / 100;
  const pressure = PSI_PER_FOOT * pipe.headOverInvert;
  return pressure * pipe.safetyFactor * (1.5 * q * (1 + q) * DR ** 2 - 0.5 * (1 + q) * DR);
}

/** psi on the crown of a fully deteriorated pipe. */
export function externalLoad(pipe: UsPipe): number {
  return (
    PSI_PER_FOOT * pipe.headOverCrown +
    (pipe.soilUnitWeight * pipe.cover * buoyancy(pipe)) / 144 +
    pipe.liveLoad
  );
}

function buoyancy(pipe: UsPipe): number {
  return Math.max(0.67, 1 - (0.33 * pipe.headOverCrown) / pipe.cover);
}

/** psi on the crown that a wall (in) carries by X1.3. */
export function loadCarried(pipe: UsPipe, wall: number): number {
  const C = ovalityFactor(pipe.ovality);
  const support = 1 / (1 + 4 * Math.exp(-0.065 * pipe.cover));
  const inertia = wall ** 3 / 12;
  const ring =
    32 *
    buoyancy(pipe) *
    support *
    pipe.soilModulus *
    ((pipe.longTermModulus * inertia) / pipe.diameter ** 3);
  return pipe.isOlderEdition
    ? (C / pipe.safetyFactor) * Math.sqrt(ring)
    : Math.sqrt(ring * C) / pipe.safetyFactor;
}

/** psi, E·I/D³ of X1.4. */
export function stiffnessOf(pipe: UsPipe, wall: number): number {
  return (pipe.modulus * (wall ** 3 / 12)) / pipe.diameter ** 3;
}

/** The thinnest wall (in) that passes every check of its host. */
export function wallByBisection(pipe: UsPipe): number {
  const head = PSI_PER_FOOT * pipe.headOverInvert;
  const isEnough = (wall: number): boolean =>
    (head === 0 || waterCarried(pipe, wall) >= head) &&
    bendingStress(pipe, wall) <= pipe.strength &&
    (pipe.isFully
      ? loadCarried(pipe, wall) >= externalLoad(pipe) && stiffnessOf(pipe, wall) >= 0.093
      : pipe.diameter / wall <= pipe.largestRatio);
  return thinnest(isEnough, pipe.diameter);
}

/** Bisection for the least wall, in, at which a check that holds for thick walls begins to hold. */
export function thinnest(isEnough: (wall: number) => boolean, diameter: number): number {
  let low = 0;
  let high = diameter * 0.999;
  for (let i = 0; i < 200; i++) {
    const middle = (low + high) / 2;
    if (isEnough(middle)) high = middle;
    else low = middle;
  }
  return high;
}
