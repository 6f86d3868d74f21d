/** One factor of a score: its points and its weight. */
export interface ScorePart {
  readonly points: number;
  readonly weight: number;
}

/** Weights summing to 1 or to 100 are met in published tables as 0.25 + 0.75 and the like: sums of doubles, hence the billionth. */
const SUMS_TO_ONE = 1e-9;

/**
 * Weighted mean of points, Σ w·x, weights as parts of 1.
 *
 * Source: City of San Marcos TX, Reuse Asset Management Plan (February 2016), Table 5.1 (weights of 100); City of Santa Ana CA, Water
 * and Sewer Rate Study (2014), Table B-9 (60 % and 40 %). Both call the result relative: it orders, it is not a probability.
 */
export function weightedScore(parts: readonly ScorePart[]): number {
  const total = parts.reduce((sum, { weight }) => sum + weight, 0);
  if (!(Math.abs(total - 1) <= SUMS_TO_ONE) || parts.some(({ weight }) => !(weight >= 0)))
    throw new RangeError(
      `weights of 0 or more must add up to 1, got ${parts.map((p) => p.weight).join(" + ")}`,
    );
  if (parts.some(({ points }) => !Number.isFinite(points)))
    throw new RangeError(`a weighted score needs all points, got ${parts.map((p) => p.points).join(", ")}`);
  return parts.reduce((sum, { points, weight }) => sum + points * weight, 0);
}

/** Points added on top (repeated failures, critical customers), never above the scale's end. Source: the same two Santa Ana tables. */
export const raisedScore = (score: number, added: number, scaleEnd: number): number =>
  Math.min(scaleEnd, score + added);

/** Steps of a points table: from this value on, these points. */
export interface PointStep {
  readonly from: number;
  readonly points: number;
}

/** Points of a value by the last step it reaches; null below the first. Steps rise. */
export function pointsOf(value: number, steps: readonly PointStep[]): number | null {
  return steps.findLast(({ from }) => value >= from)?.points ?? null;
}
