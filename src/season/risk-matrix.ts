/** Levels of likelihood and of consequence. */
const LEVELS = 5;

/** How many laterals lie in each field of likelihood × consequence. */
export interface RiskMatrix {
  /** counts[likelihood − 1][consequence − 1], levels 1 to 5. */
  readonly counts: readonly (readonly number[])[];
  /** Laterals without a likelihood or a consequence from 1 to 5: a recipe of the program's own may give other points. */
  readonly unplaced: number;
}

/**
 * Counts over a 5×5 matrix. Points between two levels count in the nearer one, halves in the worse.
 *
 * Source of the scales, 1 to 5 with 0 never used: University of New Mexico, Southwest Environmental Finance Center, asset management
 * guidance. Rounding is ours.
 *
 * @param among 1 for the laterals to count, 0 for the others; null for all
 * @param from the first row counted; `to` is the first that is not
 */
export function countRiskMatrix(
  likelihood: ArrayLike<number>,
  consequence: ArrayLike<number>,
  among: ArrayLike<number> | null,
  from = 0,
  to = likelihood.length,
): RiskMatrix {
  if (likelihood.length !== consequence.length || (among !== null && among.length !== likelihood.length))
    throw new RangeError(
      `countRiskMatrix needs columns of one length, got ${likelihood.length}, ${consequence.length}, ${among?.length}`,
    );
  const counts = Array.from({ length: LEVELS }, () => new Array<number>(LEVELS).fill(0));
  let unplaced = 0;
  for (let row = from; row < to; row++) {
    if (among !== null && among[row] === 0) continue;
    const likely = levelOf(likelihood[row]!);
    const grave = levelOf(consequence[row]!);
    if (likely === null || grave === null) unplaced++;
    else counts[likely - 1]![grave - 1]!++;
  }
  return { counts, unplaced };
}

/** Counts of two lists of laterals that have none in common. */
export const addedMatrices = (a: RiskMatrix, b: RiskMatrix): RiskMatrix => ({
  counts: a.counts.map((row, likelihood) => row.map((count, at) => count + b.counts[likelihood]![at]!)),
  unplaced: a.unplaced + b.unplaced,
});

/** The level that points fall in; null where there are none, or where a recipe of the program's own gives points off the scale. */
function levelOf(points: number): number | null {
  return points >= 1 && points <= LEVELS ? Math.round(points) : null;
}
