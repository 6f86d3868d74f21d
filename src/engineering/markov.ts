/**
 * A deterioration chain: row i, column j is the probability that a pipe in grade i + 1 is in grade j + 1 one step later. The
 * step is a year only by assumption, where the source does not say.
 */
export type Chain = readonly (readonly number[])[];

/**
 * Probabilities of the grades after whole steps, p(n) = p(0)·Pⁿ.
 * Source: Markov chain; published sewer chains in a PhD thesis of Univ. Twente, ch. 5, Fig. 5.1 and Eq. 5.2 (city of Breda,
 * 25 507 inspected pipes, five classes, no repairs).
 * Holds for: no repair between. Good for totals of a network, no better than chance for a single pipe (J. Hydroinformatics
 * 2018, doi 10.2166/hydro.2018.217): never re-rank laterals by it.
 */
export function gradesAfter(start: readonly number[], steps: number, chain: Chain): readonly number[] {
  verifyChain(chain);
  verifyShares(start, chain.length);
  if (!(Number.isInteger(steps) && steps >= 0))
    throw new RangeError(`gradesAfter needs whole steps of 0 or more, got ${steps}`);
  let now = start;
  for (let n = 0; n < steps; n++)
    now = now.map((_, j) => now.reduce((sum, share, i) => sum + share * chain[i]![j]!, 0));
  return now;
}

/**
 * A chain over grades 1 to 5 with a class 0 of pipes without a defect before them, which they leave for grade 1. The published chains start
 * at 1: how many stay in 0 is an assumption. The forecast and the chance of failure both wear by it.
 */
export function withClassZero(chain: Chain, stays: number): Chain {
  if (chain.length !== 5) throw new RangeError(`a network chain has 5 grades, got ${chain.length}`);
  if (!(stays >= 0 && stays <= 1))
    throw new RangeError(`the share that stays in class 0 is a probability, got ${stays}`);
  return [[stays, 1 - stays, 0, 0, 0, 0], ...chain.map((row) => [0, ...row])];
}

/** Mean grade, E = Σ grade·p. Source: Eq. 5.2 there. */
export const expectedGrade = (shares: readonly number[]): number =>
  shares.reduce((sum, share, i) => sum + share * (i + 1), 0);

/** Mean number of steps spent in each grade, 1/(1 − p_ii); Infinity in a grade that is never left. */
export function meanStay(chain: Chain): readonly number[] {
  verifyChain(chain);
  return chain.map((row, i) => 1 / leaving(row, i));
}

/**
 * Mean number of steps from each grade to the worst, by m_i = (1 + Σ_{j>i} p_ij·m_j)/Σ_{j>i} p_ij, from the worst back. The chance
 * of leaving is summed, not taken as 1 − p_ii, which would lose digits in a slow chain. Infinity where the worst may never come.
 * Holds for: chains without repair, p_ij = 0 for j < i.
 */
export function meanStepsToWorst(chain: Chain): readonly number[] {
  verifyChain(chain);
  const steps = chain.map(() => 0);
  for (let i = chain.length - 2; i >= 0; i--) {
    const row = chain[i]!;
    if (row.some((p, j) => j < i && p > 0))
      throw new RangeError(
        `meanStepsToWorst needs a chain without repair, got row ${i + 1}: ${row.join(" ")}`,
      );
    let sum = 1;
    for (let j = i + 1; j < chain.length; j++) if (row[j]! > 0) sum += row[j]! * steps[j]!;
    steps[i] = sum / leaving(row, i);
  }
  return steps;
}

export type ChainVerdict =
  | { readonly kind: "usable"; readonly yearsToWorst: number }
  | { readonly kind: "too slow to plan with"; readonly yearsToWorst: number; readonly limit: number };

/**
 * Whether a chain says anything within a planning horizon: a published one (fitted to all jumps at once) takes about 21 400
 * steps from grade 1 to 5. The limit, 300 years as a suggestion, is this project's own.
 */
export function judgeChain(chain: Chain, yearsPerStep: number, limit: number): ChainVerdict {
  if (!(yearsPerStep > 0 && limit > 0))
    throw new RangeError(
      `judgeChain needs years per step and a limit above 0, got ${yearsPerStep}, ${limit}`,
    );
  const yearsToWorst = meanStepsToWorst(chain)[0]! * yearsPerStep;
  return yearsToWorst <= limit
    ? { kind: "usable", yearsToWorst }
    : { kind: "too slow to plan with", yearsToWorst, limit };
}

/** The chance of leaving grade i for a worse or better one. */
const leaving = (row: readonly number[], i: number): number =>
  row.reduce((sum, p, j) => (j === i ? sum : sum + p), 0);

/** Rows are probabilities and sum to 1, to a billionth: published chains have four decimals, which sum exactly but for doubles. */
function verifyChain(chain: Chain): void {
  if (chain.length < 2) throw new RangeError(`a chain needs two grades or more, got ${chain.length}`);
  for (const row of chain) verifyShares(row, chain.length);
}

function verifyShares(shares: readonly number[], length: number): void {
  const sum = shares.reduce((total, share) => total + share, 0);
  if (shares.length !== length || shares.some((share) => !(share >= 0)) || !(Math.abs(sum - 1) <= 1e-9))
    throw new RangeError(`expected ${length} probabilities that sum to 1, got ${shares.join(" ")}`);
}
