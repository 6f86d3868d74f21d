import { type Kilopascals, kilopascals, type Metres, type Newtons, newtons } from "../quantity/si.ts";
import { WATER_UNIT_WEIGHT } from "./groundwater.ts";

/** A piece of the pipe, in the direction of the pull. */
export type PullSegment =
  | {
      readonly kind: "straight";
      readonly length: Metres;
      /** Metres up per metre along the pipe (the sine of the slope angle); negative downhill. */
      readonly rise: number;
    }
  | { readonly kind: "bend"; readonly turnDegrees: number; readonly radius: Metres };

/** A wetted-out tube on its rope. */
export interface PulledTube {
  /** Weight of the wet tube, in newtons per metre. */
  readonly newtonsPerMetre: number;
  /** Tube on pipe (or on its glide foil). */
  readonly friction: number;
  /** Rope on pipe, in the bends still ahead of the tube. The rope's own weight is neglected. */
  readonly ropeFriction: number;
  /** Hold-back at the tube's tail. */
  readonly tailTension: Newtons;
}

export interface Pull {
  /** Greatest pull at the winch during the whole insertion. */
  readonly atWinch: Newtons;
  /** Greatest tension in the tube during the whole insertion. */
  readonly inTube: Newtons;
}

/**
 * Winch pull and tube tension of a pulled-in-place liner.
 *
 *   straight   T₂ = max(0, T₁ + w·L·(μ·cos θ + sin θ))
 *   bend       T₂ = w·R·sinh(μ·α + asinh(T₁/(w·R))) ,   which is the capstan T₁·e^(μα) where w·R is small against T₁
 *   rope       T_winch = T_head·e^(μ_rope·α_ahead)
 *
 * Source: Coulomb friction, derived: in a level bend the wall pushes inward by T/R and up by w per length, so
 * dT/ds = μ·√((T/R)² + w²), whose solution is the bend's. A tube cannot push, so no tension falls below 0. The tension at a
 * point depends only on what lies behind it, so the tube's peak is met at a segment's end; the winch's peak may come before
 * the head arrives (a steep fall at the end of the run), so every position of the head is looked at.
 * Holds for: a slack-free rope, a tube as long as the run, bends taken as level (in an upright bend the weight acts along
 * the pipe instead: an error up to w·R each). No published worked example was found; friction values are the user's.
 */
export function pullTube(path: readonly PullSegment[], tube: PulledTube): Pull {
  verifyTube(tube);
  let turnsAhead = 0;
  for (const segment of path) if (segment.kind === "bend") turnsAhead += turn(segment.turnDegrees);
  let tension: number = tube.tailTension;
  let inTube = tension;
  let atWinch = tension * Math.exp(tube.ropeFriction * turnsAhead);
  for (const segment of path) {
    if (segment.kind === "straight") tension = tensionAfterStraight(segment, tension, tube);
    else {
      atWinch = Math.max(atWinch, winchPeakInBend(segment, tension, turnsAhead, tube));
      turnsAhead = Math.max(0, turnsAhead - turn(segment.turnDegrees));
      tension = tensionAfterTurn(turn(segment.turnDegrees), segment.radius, tension, tube);
    }
    inTube = Math.max(inTube, tension);
    atWinch = Math.max(atWinch, tension * Math.exp(tube.ropeFriction * turnsAhead));
  }
  return { atWinch: newtons(atWinch), inTube: newtons(inTube) };
}

export type PullVerdict =
  | { readonly kind: "within" }
  | { readonly kind: "over"; readonly limit: "winch" | "tube"; readonly by: Newtons };

/** The pull against what the winch gives and what the tube bears (its maker's figure). */
export function judgePull(
  pull: Pull,
  limits: { readonly winch: Newtons; readonly tube: Newtons },
): PullVerdict {
  if (pull.inTube > limits.tube)
    return { kind: "over", limit: "tube", by: newtons(pull.inTube - limits.tube) };
  if (pull.atWinch > limits.winch)
    return { kind: "over", limit: "winch", by: newtons(pull.atWinch - limits.winch) };
  return { kind: "within" };
}

/** Heads that push a liner inward until it is hard, above the invert at the lowest point of the run. */
export interface InwardHeads {
  readonly groundwater: Metres;
  /** Sewage standing in branches held back by the bladder. */
  readonly branches: Metres;
}

export interface InflationLimits {
  /** What the host can take from inside without harm. */
  readonly host: Kilopascals;
  /** Rating of the bladder or calibration hose. */
  readonly bladder: Kilopascals;
}

export type InflationWindow =
  | { readonly kind: "window"; readonly least: Kilopascals; readonly most: Kilopascals }
  | {
      readonly kind: "none";
      readonly least: Kilopascals;
      readonly most: Kilopascals;
      readonly limit: "host" | "bladder";
    };

/**
 * Pressure that holds the tube against the host while it cures.
 *
 *   p_least = γ_w·(h_groundwater + h_branches) + margin ,   p_most = min(host, bladder)
 *
 * Source: pressure during cure must exceed the groundwater head plus the sewage head in side connections (City of Nashua NH,
 * section 02650). That a bladder never exceeds its rating, and is checked against the host, is from memory.
 * Holds for: gauge pressure at the lowest point. Trap seals in the building may set a lower limit: pass the lower one as host.
 */
export function inflationWindow(
  heads: InwardHeads,
  margin: Kilopascals,
  limits: InflationLimits,
): InflationWindow {
  if (
    !(heads.groundwater >= 0 && heads.branches >= 0 && margin >= 0 && limits.host > 0 && limits.bladder > 0)
  )
    throw new RangeError(
      `inflationWindow needs heads and margin of 0 or more and limits above 0, got ${heads.groundwater} m, ${heads.branches} m, ${margin} kPa, ${limits.host} kPa, ${limits.bladder} kPa`,
    );
  const least = kilopascals(WATER_UNIT_WEIGHT * (heads.groundwater + heads.branches) + margin);
  const most = kilopascals(Math.min(limits.host, limits.bladder));
  if (least <= most) return { kind: "window", least, most };
  return { kind: "none", least, most, limit: limits.host <= limits.bladder ? "host" : "bladder" };
}

/** A chosen pressure against its window. Where there is no window, no pressure is right. */
export function judgeInflation(
  pressure: Kilopascals,
  window: InflationWindow,
): "within" | "below inward heads" | "above limit" {
  if (pressure > window.most) return "above limit";
  return pressure < window.least ? "below inward heads" : "within";
}

const turn = (degrees: number): number => (degrees * Math.PI) / 180;

function tensionAfterStraight(
  segment: Extract<PullSegment, { kind: "straight" }>,
  tension: number,
  tube: PulledTube,
): number {
  const { length, rise } = segment;
  if (!(length >= 0 && Math.abs(rise) <= 1))
    throw new RangeError(
      `pullTube needs a length of 0 m or more and a rise from −1 to 1, got ${length}, ${rise}`,
    );
  const perMetre = tube.newtonsPerMetre * (tube.friction * Math.sqrt(1 - rise ** 2) + rise);
  return Math.max(0, tension + perMetre * length);
}

function tensionAfterTurn(angle: number, radius: Metres, tension: number, tube: PulledTube): number {
  if (!(angle >= 0 && radius > 0))
    throw new RangeError(
      `pullTube needs a turn of 0° or more and a radius above 0 m, got ${angle} rad, ${radius} m`,
    );
  const weight = tube.newtonsPerMetre * radius;
  return weight * Math.sinh(tube.friction * angle + Math.asinh(tension / weight));
}

/**
 * Winch pull while the head is inside a bend, at its greatest. Only a rope that grips harder than the tube has its peak
 * inside: there T·e^(μ_rope·α_ahead) is stationary where √(T² + (wR)²)/T = μ_rope/μ. Otherwise an end of the bend is the peak.
 */
function winchPeakInBend(
  segment: Extract<PullSegment, { kind: "bend" }>,
  tension: number,
  turnsAhead: number,
  tube: PulledTube,
): number {
  const { friction, ropeFriction } = tube;
  if (!(ropeFriction > friction && friction > 0)) return 0;
  const weight = tube.newtonsPerMetre * segment.radius;
  const peak = weight / Math.sqrt((ropeFriction / friction) ** 2 - 1);
  const angle = (Math.asinh(peak / weight) - Math.asinh(tension / weight)) / friction;
  if (!(angle > 0 && angle < turn(segment.turnDegrees))) return 0;
  return peak * Math.exp(ropeFriction * (turnsAhead - angle));
}

function verifyTube({ newtonsPerMetre, friction, ropeFriction, tailTension }: PulledTube): void {
  if (!(newtonsPerMetre > 0 && friction >= 0 && ropeFriction >= 0 && tailTension >= 0))
    throw new RangeError(
      `pullTube needs a weight above 0 and frictions and tail tension of 0 or more, got ${newtonsPerMetre} N/m, ${friction}, ${ropeFriction}, ${tailTension} N`,
    );
}
