import { RandomStream } from "../engineering/random-stream.ts";
import type { Cents, Fraction } from "../quantity/si.ts";

/** Where the ranked list is cut: after so many, or where the money ends. */
export type RankCut =
  | { readonly kind: "count"; readonly count: number }
  /** Down the list until the next does not fit. A lateral without a cost (NaN) is passed over: it can be neither priced nor paid. */
  | { readonly kind: "budget"; readonly budget: Cents; readonly costs: ArrayLike<number> };

export interface StabilityQuestion<World> {
  /** One a lateral, all different; also the last tie-breaker, so the order of the file does not matter. */
  readonly ids: readonly string[];
  readonly cut: RankCut;
  /** The selected set, 1 in and 0 out, in the order of the ids: how much of it is selected again is the overlap. */
  readonly selected: ArrayLike<number>;
  /** What all laterals share in one possible world, such as the weights. */
  readonly drawWorld: (stream: RandomStream) => World;
  /** Score of a lateral in that world, high first, its own uncertain inputs drawn from its own stream. NaN is not ranked. */
  readonly scoreOf: (row: number, world: World, stream: RandomStream) => number;
  readonly draws: number;
  /** A whole number of 32 bits. */
  readonly seed: number;
}

export interface RankStability {
  readonly draws: number;
  /** Share of the worlds in which each lateral is above the cut. */
  readonly stays: Float64Array;
  /** Standard error of that share from sampling alone; never 0, however sure it looks. */
  readonly standardError: Float64Array;
  /** Mean share of the selected set that is selected again; null when nothing is selected. */
  readonly overlap: number | null;
}

/** Scores closer than this are one score, as in the ranking itself. */
const SCORE_STEP = 1e-6;

/**
 * How stable the order is: weights and uncertain inputs are drawn again and again, and each lateral gets the share of the worlds in
 * which it is above the cut.
 *
 *   share = k/n ,   standard error = √(q·(1 − q)/(n + 4)) ,   q = (k + 2)/(n + 4)
 *
 * Source: plain random sampling; adjusted share of Agresti and Coull (1998), from memory. 400 worlds give 2.5 points at worst.
 * Holds for: the spreads that are passed in, no more. It is not the probability that a lateral fails.
 */
export function rankStability<World>(question: StabilityQuestion<World>): RankStability {
  const { ids, cut, selected, drawWorld, scoreOf, draws, seed } = question;
  if (!(Number.isInteger(draws) && draws > 0))
    throw new RangeError(`rankStability needs one draw or more, got ${draws}`);
  if (selected.length !== ids.length)
    throw new RangeError(`rankStability: ${ids.length} ids and ${selected.length} marks`);
  verifyCut(cut, ids.length);
  const rows = rowsById(ids);
  const times = new Uint32Array(ids.length);
  const scores = new Float64Array(ids.length);
  const stream = new RandomStream(seed);
  let again = 0;
  for (let draw = 0; draw < draws; draw++) {
    // Stream 0 is the world's; a lateral's is its place among the ids, so a shuffled file draws the same.
    const world = drawWorld(stream.restart(seed, 0, draw));
    for (const [place, row] of rows.entries())
      scores[place] = scoreOf(row, world, stream.restart(seed, place + 1, draw));
    for (const row of aboveCut(scores, rows, cut)) {
      times[row]!++;
      again += selected[row]!;
    }
  }
  const size = Array.from(selected).reduce((sum, mark) => sum + mark, 0);
  return {
    draws,
    stays: Float64Array.from(times, (k) => k / draws),
    standardError: Float64Array.from(times, (k) => {
      const q = (k + 2) / (draws + 4);
      return Math.sqrt((q * (1 - q)) / (draws + 4));
    }),
    overlap: size === 0 ? null : again / (size * draws),
  };
}

/**
 * Weights drawn around the given ones: each times a triangular factor from 1 − spread to 1 + spread, then brought back to a sum of 1.
 * How far a city's weights may be argued about is an assumption of the caller's.
 */
export function drawWeights(
  weights: readonly number[],
  spread: Fraction,
  stream: RandomStream,
): readonly number[] {
  if (!(spread >= 0 && spread <= 1) || weights.some((w) => !(w >= 0)))
    throw new RangeError(
      `drawWeights needs a spread in 0 … 1 and weights of 0 or more, got ${spread}, ${weights.join(", ")}`,
    );
  const drawn = weights.map((w) => w * stream.triangular(1 - spread, 1, 1 + spread));
  const sum = drawn.reduce((total, w) => total + w, 0);
  if (!(sum > 0)) throw new RangeError(`drawWeights needs a weight above 0, got ${weights.join(", ")}`);
  return drawn.map((w) => w / sum);
}

/** Rows above the cut in one world. Scores are by place among the ids; `rows` leads from place to row. */
function aboveCut(scores: Float64Array, rows: Uint32Array, cut: RankCut): readonly number[] {
  const above: number[] = [];
  let left = cut.kind === "budget" ? cut.budget : cut.count;
  for (const place of inOrder(scores)) {
    const row = rows[place]!;
    const takes = cut.kind === "budget" ? cut.costs[row]! : 1;
    if (Number.isNaN(takes)) continue;
    if (takes > left) break;
    left -= takes;
    above.push(row);
  }
  return above;
}

/**
 * Places by falling score, ties by place. Score and place are packed into one whole number, which the engine sorts some ten times faster
 * than pairs through a comparing function.
 */
function* inOrder(scores: Float64Array): Generator<number> {
  const n = scores.length;
  let top = -Infinity;
  let bottom = Infinity;
  for (const score of scores) {
    if (score > top) top = score;
    if (score < bottom) bottom = score;
  }
  const highest = Math.round(top / SCORE_STEP);
  if (top >= bottom && !Number.isSafeInteger((highest - Math.round(bottom / SCORE_STEP) + 1) * n))
    throw new RangeError(
      `rankStability: scores from ${bottom} to ${top} are too far apart for ${n} laterals`,
    );
  const keys = scores.map((score, place) => (highest - Math.round(score / SCORE_STEP)) * n + place).sort();
  // NaN, the lateral without a score, sorts last.
  for (const key of keys) {
    if (Number.isNaN(key)) return;
    yield key % n;
  }
}

/** Row numbers in the order of their ids by code units. */
function rowsById(ids: readonly string[]): Uint32Array {
  const rows = Uint32Array.from(ids, (_, row) => row).sort((a, b) => (ids[a]! < ids[b]! ? -1 : 1));
  for (let place = 1; place < rows.length; place++)
    if (ids[rows[place]!] === ids[rows[place - 1]!])
      throw new RangeError(
        `rankStability needs different ids, got ${JSON.stringify(ids[rows[place]!])} twice`,
      );
  return rows;
}

function verifyCut(cut: RankCut, laterals: number): void {
  if (cut.kind === "count" && !(Number.isInteger(cut.count) && cut.count >= 0))
    throw new RangeError(`a cut needs a whole count of 0 or more, got ${cut.count}`);
  if (cut.kind === "budget" && !(cut.budget >= 0 && cut.costs.length === laterals))
    throw new RangeError(
      `a cut needs a budget of 0 or more and a cost each, got ${cut.budget}, ${cut.costs.length} for ${laterals}`,
    );
}
