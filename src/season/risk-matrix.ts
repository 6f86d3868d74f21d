/** Levels of likelihood and of consequence. */
const LEVELS = 5;

/** How many laterals lie in each field of likelihood × consequence. */
export interface RiskMatrix {
  /** counts[likelihood − 1][consequence − 1], levels 1 to 5. */
  readonly counts: readonly (readonly number[])[];
  /** Laterals without a likelihood or a consequence. */
  readonly unplaced: number;
}

/**
 * Counts over a 5×5 matrix. Points between two levels count in the nearer one, halves in the worse.
 *
 * Source of the scales, 1 to 5 with 0 never used: University of New Mexico, Southwest Environmental Finance Center, asset management
 * guidance. Rounding is ours.
 *
 * @param among 1 for the laterals to count, 0 for the others; null for all
 */
export function countRiskMatrix(
  likelihood: ArrayLike<number>,
  consequence: ArrayLike<number>,
  among: ArrayLike<number> | null,
): RiskMatrix {
  if (likelihood.length !== consequence.length || (among !== null && among.length !== likelihood.length))
    throw new RangeError(
      `countRiskMatrix needs columns of one length, got ${likelihood.length}, ${consequence.length}, ${among?.length}`,
    );
  const counts = Array.from({ length: LEVELS }, () => new Array<number>(LEVELS).fill(0));
  let unplaced = 0;
  for (let row = 0; row < likelihood.length; row++) {
    if (among !== null && among[row] === 0) continue;
    const from = levelOf(likelihood[row]!);
    const to = levelOf(consequence[row]!);
    if (from === null || to === null) unplaced++;
    else counts[from - 1]![to - 1]!++;
  }
  return { counts, unplaced };
}

/** The level that points fall in; null where there are none, or where a recipe of the program's own gives points off the scale. */
function levelOf(points: number): number | null {
  return points >= 1 && points <= LEVELS ? Math.round(points) : null;
}
