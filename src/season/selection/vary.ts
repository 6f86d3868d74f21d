import type { SelectionProblem } from "./selection-problem.ts";

/** What is varied: cents of money (the reserve is taken from it), or minutes of one crew type. */
export type Varied = { readonly kind: "money" } | { readonly kind: "crew"; readonly crew: number };

/** The same season with another amount of what is varied. */
export const withAmount = (problem: SelectionProblem, varied: Varied, amount: number): SelectionProblem =>
  varied.kind === "money"
    ? { ...problem, money: amount }
    : {
        ...problem,
        crewMinutes: problem.crewMinutes.map((most, crew) => (crew === varied.crew ? amount : most)),
      };

/** One point of a curve; worth is null where no choice keeps the rules with this amount. */
export interface CurvePoint {
  readonly amount: number;
  readonly worth: number | null;
  readonly gap: number;
}

export interface Curve {
  readonly points: readonly CurvePoint[];
  /** What a unit more of the amount adds from each point to the next solved one; null for the last. */
  readonly marginal: readonly (number | null)[];
  /** The point farthest above the line from the first to the last: more than there adds less than the whole does on average. Null without a bend. */
  readonly knee: number | null;
}

/**
 * Reads a curve. Each point is proven within its own gap, so two neighbours may seem to fall by that much; a larger amount can always do
 * what a smaller one did, so the worth of a point is never taken below that of one before it.
 */
export function readCurve(given: readonly CurvePoint[]): Curve {
  const points: CurvePoint[] = [];
  let most = Number.NEGATIVE_INFINITY;
  for (const point of given) {
    if (point.worth !== null) most = Math.max(most, point.worth);
    points.push(point.worth === null ? point : { ...point, worth: most });
  }
  const solved = points.filter((point) => point.worth !== null);
  const marginal = points.map((point, i) => {
    const next = points[i + 1];
    return point.worth === null || next === undefined || next.worth === null
      ? null
      : (next.worth - point.worth) / (next.amount - point.amount);
  });
  return { points, marginal, knee: kneeOf(solved) };
}

/** By the greatest height over the chord, both axes as parts of their span (the method of V. Satopää and others, 2011, without its smoothing). */
function kneeOf(solved: readonly CurvePoint[]): number | null {
  const first = solved[0];
  const last = solved.at(-1);
  if (first === undefined || last === undefined || solved.length < 3) return null;
  const width = last.amount - first.amount;
  const height = last.worth! - first.worth!;
  if (!(width > 0 && height > 0)) return null;
  let best = { amount: 0, above: 1e-9 };
  for (const { amount, worth } of solved) {
    const above = (worth! - first.worth!) / height - (amount - first.amount) / width;
    if (above > best.above) best = { amount, above };
  }
  return best.amount === 0 ? null : best.amount;
}
