import {
  type Fraction,
  fraction,
  type LitresPerSecond,
  litresPerSecond,
  type MetresPerSecond,
  type Millimetres,
  metresPerSecond,
  millimetres,
} from "../quantity/si.ts";

/** A round gravity pipe. Roughness is Manning's n, slope is metres of fall per metre. */
export interface GravityPipe {
  readonly diameter: Millimetres;
  readonly roughness: number;
  readonly slope: Fraction;
}

/**
 * Full-pipe capacity after lining over capacity before, at the same slope.
 *
 *   Q₂/Q₁ = (n₁/n₂)·((D − 2t)/D)^(8/3)
 *
 * Source: Manning's equation; Trenchless Technology Piping: Installation and Inspection (2010), Table 2.14.
 * Holds for: a round host and an even wall. A footnote there: take the liner's n from the same end of its range as the host's.
 * Always show it with both n equal as well: a 4 in lateral with a 4.5 mm wall is 102 % on .013 → .010 but 78 % on equal n.
 */
export function capacityRatio(
  hostDiameter: Millimetres,
  thickness: Millimetres,
  hostRoughness: number,
  linerRoughness: number,
): number {
  if (!(thickness >= 0 && 2 * thickness < hostDiameter && hostRoughness > 0 && linerRoughness > 0))
    throw new RangeError(
      `capacityRatio needs a bore left and roughness above 0, got ${thickness} mm in ${hostDiameter} mm, n ${hostRoughness} and ${linerRoughness}`,
    );
  return (hostRoughness / linerRoughness) * (1 - (2 * thickness) / hostDiameter) ** (8 / 3);
}

/**
 * Velocity running just full, which is also the velocity half full.
 *
 *   V = (1/n)·(D/4)^(2/3)·S^(1/2)   with D in m, V in m/s
 *
 * Source: Manning's equation in SI. Holds for: uniform, rough turbulent flow.
 */
export function fullPipeVelocity(pipe: GravityPipe): MetresPerSecond {
  verifyPipe(pipe);
  return metresPerSecond(((pipe.diameter / 4000) ** (2 / 3) * Math.sqrt(pipe.slope)) / pipe.roughness);
}

/** Flow running just full, Q = V·π·D²/4. Not the most the pipe carries: see `greatestFlow`. */
export const fullPipeFlow = (pipe: GravityPipe): LitresPerSecond =>
  litresPerSecond((fullPipeVelocity(pipe) * Math.PI * pipe.diameter ** 2) / 4 / 1000);

/**
 * Water angle θ (at the pipe's centre, radians) at which a round pipe carries most: the root of 3θ − 5θ·cos θ + 2·sin θ = 0
 * from dQ/dθ = 0. Depth 0.938·D, flow 1.0757 of full.
 */
const GREATEST_FLOW_ANGLE = 5.278107137933795;

/** Q/Q_full at a water angle: (θ − sin θ)^(5/3) / (2π·θ^(2/3)). */
const flowShare = (angle: number): number =>
  (angle - Math.sin(angle)) ** (5 / 3) / (2 * Math.PI * angle ** (2 / 3));

const GREATEST_FLOW_SHARE = flowShare(GREATEST_FLOW_ANGLE);

/** The most the pipe carries by gravity, at 0.938 of its depth; above it, only under pressure. */
export const greatestFlow = (pipe: GravityPipe): LitresPerSecond =>
  litresPerSecond(fullPipeFlow(pipe) * GREATEST_FLOW_SHARE);

export type FlowState =
  | {
      readonly kind: "part full";
      readonly depth: Millimetres;
      /** Depth over diameter. */
      readonly filling: Fraction;
      readonly velocity: MetresPerSecond;
    }
  | { readonly kind: "beyond gravity flow"; readonly greatest: LitresPerSecond };

/**
 * Depth and velocity of a steady flow.
 *
 *   Q/Q_full = (θ − sin θ)^(5/3)/(2π·θ^(2/3)) ,   y/D = (1 − cos(θ/2))/2 ,   V/V_full = ((θ − sin θ)/θ)^(2/3)
 *
 * Source: Manning's equation on the circular segment, n taken as the same at all depths.
 * Holds for: flow above 0 up to the greatest. Between full and greatest flow two depths exist: the lower is meant.
 *
 * Solved by Newton on ln θ. There the function is concave and rising, and the start (θ − sin θ < θ³/6) is left of the root,
 * so each step comes nearer from the left and none passes it. At the greatest flow the root is double and steps only halve
 * the error, hence the room for 60.
 */
export function partFullFlow(flow: LitresPerSecond, pipe: GravityPipe): FlowState {
  if (!(flow > 0)) throw new RangeError(`partFullFlow needs a flow above 0 L/s, got ${flow}`);
  const share = flow / fullPipeFlow(pipe);
  // A billionth over is a rounded copy of the greatest flow itself.
  if (share > GREATEST_FLOW_SHARE * (1 + 1e-9))
    return { kind: "beyond gravity flow", greatest: greatestFlow(pipe) };
  let angle = (6 ** (5 / 3) * 2 * Math.PI * share) ** (3 / 13);
  for (let i = 0; i < 60; i++) {
    const segment = angle - Math.sin(angle);
    const short = Math.log(share / flowShare(angle));
    const rate = ((5 / 3) * angle * (1 - Math.cos(angle))) / segment - 2 / 3;
    if (!(short > 1e-15 && rate > 0)) break;
    angle = Math.min(angle * Math.exp(short / rate), GREATEST_FLOW_ANGLE);
  }
  const filling = Math.sin(angle / 4) ** 2;
  return {
    kind: "part full",
    depth: millimetres(filling * pipe.diameter),
    filling: fraction(filling),
    velocity: metresPerSecond(fullPipeVelocity(pipe) * ((angle - Math.sin(angle)) / angle) ** (2 / 3)),
  };
}

/**
 * Slope at which a pipe running full (or half full) reaches a velocity, S = (V·n/(D/4)^(2/3))². The self-cleansing velocity
 * is the user's; 2 ft/s (0.61 m/s) is common practice, no published source read.
 */
export function slopeForVelocity(
  diameter: Millimetres,
  roughness: number,
  velocity: MetresPerSecond,
): Fraction {
  if (!(diameter > 0 && roughness > 0 && velocity > 0))
    throw new RangeError(
      `slopeForVelocity needs values above 0, got ${diameter} mm, n ${roughness}, ${velocity} m/s`,
    );
  return fraction(((velocity * roughness) / (diameter / 4000) ** (2 / 3)) ** 2);
}

/** Whether a flow carries its solids along: its velocity reaches the user's least velocity. */
export const isSelfCleansing = (velocity: MetresPerSecond, least: MetresPerSecond): boolean =>
  velocity >= least;

/** One line of a code's table of least slopes. */
export interface SlopeRule {
  /** The rule holds for sizes up to and including this; null for every larger size. */
  readonly upTo: Millimetres | null;
  readonly slope: Fraction;
}

/**
 * The least slope a code asks of a size; null where its table does not say. Rules are in rising order of size. `sizeSlack`
 * lets a size count as a rule's size when it is this fraction above it (101.6 against 100 mm: 0.02).
 */
export function leastSlope(
  diameter: Millimetres,
  rules: readonly SlopeRule[],
  sizeSlack: Fraction,
): Fraction | null {
  const rule = rules.find(({ upTo }) => upTo === null || diameter <= upTo * (1 + sizeSlack));
  return rule === undefined ? null : rule.slope;
}

/** One cell of a code's table of drain capacities. */
export interface FixtureUnitCell {
  readonly diameter: Millimetres;
  readonly slope: Fraction;
  readonly units: number;
}

/**
 * Drainage fixture units a drain of this size and slope may carry: the largest tabulated size not above the pipe's, at the
 * steepest tabulated slope not above the pipe's. Null where the pipe is smaller or flatter than the table. No interpolation:
 * codes are read down to the next line. `sizeSlack` lets a pipe count as a nominal size when it is this fraction below it.
 */
export function fixtureUnitCapacity(
  diameter: Millimetres,
  slope: Fraction,
  table: readonly FixtureUnitCell[],
  sizeSlack: Fraction,
): number | null {
  let best: FixtureUnitCell | null = null;
  for (const cell of table) {
    // A slope typed as 1/8 in/ft and one worked out from levels may differ in the last bits.
    if (cell.diameter * (1 - sizeSlack) > diameter || cell.slope > slope * (1 + 1e-9)) continue;
    if (
      best === null ||
      cell.diameter > best.diameter ||
      (cell.diameter === best.diameter && cell.slope > best.slope)
    )
      best = cell;
  }
  return best === null ? null : best.units;
}

function verifyPipe({ diameter, roughness, slope }: GravityPipe): void {
  if (!(diameter > 0 && roughness > 0 && slope > 0))
    throw new RangeError(
      `Manning's equation needs values above 0, got ${diameter} mm, n ${roughness}, slope ${slope}`,
    );
}
