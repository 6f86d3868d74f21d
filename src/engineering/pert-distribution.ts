import { betaQuantile } from "./incomplete-beta.ts";
import { gammaTails } from "./incomplete-gamma.ts";

/** Three values of something uncertain: no less, likeliest, no more. */
export interface ThreePoints {
  readonly least: number;
  readonly best: number;
  readonly most: number;
}

/** How the three points are made a distribution; the choice moves the answer, so it is always shown. */
export const spreadShapes = ["beta-PERT", "triangular"] as const;
export type SpreadShape = (typeof spreadShapes)[number];

/**
 * Mean and variance of one activity by the classic rule.
 *
 *   te = (a + 4m + b)/6 ,   σ² = ((b − a)/6)²
 *
 * Source: Malcolm, Roseboom, Clark, Fazar, "Application of a technique for research and development program evaluation",
 * Operations Research 7 (1959) 646 (PERT). Holds for: a ≤ m ≤ b.
 */
export function pertMoments(points: ThreePoints): { readonly mean: number; readonly variance: number } {
  const { least, best, most } = verified(points);
  return { mean: (least + 4 * best + most) / 6, variance: ((most - least) / 6) ** 2 };
}

/**
 * Value below which the three points' distribution lies with probability u.
 *
 *   beta-PERT (shape 4):  x = a + (b − a)·Beta⁻¹(u; α, β) ,   α = 1 + 4·(m − a)/(b − a) ,   β = 1 + 4·(b − m)/(b − a)
 *   triangular:           f = (m − a)/(b − a) ;   u < f: a + √(u·(b − a)·(m − a)), else b − √((1 − u)·(b − a)·(b − m))
 *
 * The beta-PERT has the classic mean; its variance is (μ − a)·(b − μ)/7, not the classic one. Source: Vose, Risk Analysis,
 * 3rd ed. 2008 (from memory, unverified); the moments are checked in the tests. Holds for: a ≤ m ≤ b; a = b gives that value.
 */
export function spreadQuantile(shape: SpreadShape, points: ThreePoints, u: number): number {
  const { least, best, most } = verified(points);
  const width = most - least;
  if (width === 0) return best;
  switch (shape) {
    case "beta-PERT":
      return (
        least + width * betaQuantile(u, 1 + (4 * (best - least)) / width, 1 + (4 * (most - best)) / width)
      );
    case "triangular":
      return u * width < best - least
        ? least + Math.sqrt(u * width * (best - least))
        : most - Math.sqrt((1 - u) * width * (most - best));
    default:
      return shape satisfies never;
  }
}

/**
 * Chance that a normal variable lies below x.
 *
 *   Φ(z) = ½·(1 + erf(z/√2)) ,   erf(x) = P(½, x²) for x ≥ 0
 *
 * Source: NIST Digital Library of Mathematical Functions, §7.11.1.
 */
export function normalBelow(x: number, mean: number, variance: number): number {
  if (!(variance > 0)) throw new RangeError(`normalBelow needs a variance above 0, got ${variance}`);
  const { below, above } = gammaTails(0.5, (x - mean) ** 2 / (2 * variance));
  return x >= mean ? (1 + below) / 2 : above / 2;
}

function verified(points: ThreePoints): ThreePoints {
  const { least, best, most } = points;
  if (!(least <= best && best <= most))
    throw new RangeError(`three points need ${least} ≤ ${best} ≤ ${most}`);
  return points;
}
