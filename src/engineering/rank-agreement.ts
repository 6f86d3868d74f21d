/**
 * Kendall's tau-b, agreement of two scorings of the same items with ties allowed for.
 *
 *   τ_b = (P − Q)/√((n₀ − n₁)·(n₀ − n₂)) ,   n₀ = n(n − 1)/2 ,   n₁, n₂ pairs tied in x, in y
 *
 * Source: Kendall's tau-b with Knight's O(n·log n) count (A computer method for calculating Kendall's tau with ungrouped data,
 * 1966). Holds for: finite numbers. Null where either scoring has no two different values: agreement is then undefined.
 */
export function kendallTauB(x: ArrayLike<number>, y: ArrayLike<number>): number | null {
  verifyPaired(x, y);
  const n = x.length;
  const order = Array.from({ length: n }, (_, i) => i).sort((a, b) => x[a]! - x[b]! || y[a]! - y[b]!);
  const byX = Float64Array.from(order, (i) => x[i]!);
  const byXThenY = Float64Array.from(order, (i) => y[i]!);
  const tiedInX = countTiedPairs(byX);
  const tiedInBoth = countTiedPairs(byX, byXThenY);
  const { swaps, sorted } = countSwaps(byXThenY);
  const tiedInY = countTiedPairs(sorted);
  const pairs = (n * (n - 1)) / 2;
  const untiedInX = pairs - tiedInX;
  const untiedInY = pairs - tiedInY;
  if (untiedInX === 0 || untiedInY === 0) return null;
  return (pairs - tiedInX - tiedInY + tiedInBoth - 2 * swaps) / Math.sqrt(untiedInX * untiedInY);
}

/**
 * Spearman's rho: Pearson's correlation of the ranks, ties sharing their mean rank. Without ties it is 1 − 6·Σd²/(n·(n² − 1)).
 * Holds for: finite numbers. Null where either scoring has no two different values.
 */
export function spearmanRho(x: ArrayLike<number>, y: ArrayLike<number>): number | null {
  verifyPaired(x, y);
  const a = rankTwice(x);
  const b = rankTwice(y);
  // Twice the mean rank is n + 1 with or without ties, so all sums below are of whole numbers.
  const mean = x.length + 1;
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let i = 0; i < x.length; i++) {
    const da = a[i]! - mean;
    const db = b[i]! - mean;
    ab += da * db;
    aa += da * da;
    bb += db * db;
  }
  return aa === 0 || bb === 0 ? null : ab / Math.sqrt(aa * bb);
}

/** How much of one list's first k is in another's first k: |A ∩ B|/k. For the funded set, k is the number funded. */
export function topOverlap(a: readonly string[], b: readonly string[], k: number): number {
  if (!(Number.isInteger(k) && k > 0 && k <= a.length && k <= b.length))
    throw new RangeError(
      `topOverlap needs a whole k from 1 to the shorter list, got ${k} of ${a.length} and ${b.length}`,
    );
  const first = new Set(a.slice(0, k));
  return b.slice(0, k).filter((id) => first.has(id)).length / k;
}

/** Pairs of equal neighbours' runs in sorted values; with a second column, pairs equal in both. */
function countTiedPairs(values: Float64Array, also?: Float64Array): number {
  let pairs = 0;
  let run = 1;
  for (let i = 1; i < values.length; i++) {
    const tied = values[i] === values[i - 1] && (also === undefined || also[i] === also[i - 1]);
    run = tied ? run + 1 : 1;
    pairs += run - 1;
  }
  return pairs;
}

/** Swaps of neighbours that a bubble sort would make, counted by a bottom-up merge sort. */
function countSwaps(values: Float64Array): { readonly swaps: number; readonly sorted: Float64Array } {
  const n = values.length;
  let from = values.slice();
  let into = new Float64Array(n);
  let swaps = 0;
  for (let width = 1; width < n; width *= 2) {
    for (let start = 0; start < n; start += 2 * width) {
      const middle = Math.min(start + width, n);
      const end = Math.min(start + 2 * width, n);
      let left = start;
      let right = middle;
      for (let k = start; k < end; k++) {
        if (right >= end || (left < middle && from[left]! <= from[right]!)) into[k] = from[left++]!;
        else {
          swaps += middle - left;
          into[k] = from[right++]!;
        }
      }
    }
    [from, into] = [into, from];
  }
  return { swaps, sorted: from };
}

/** Twice the rank of each value, 1 the smallest, ties sharing their mean: twice, so that half ranks are whole. */
function rankTwice(values: ArrayLike<number>): Float64Array {
  const order = Array.from({ length: values.length }, (_, i) => i).sort((a, b) => values[a]! - values[b]!);
  const ranks = new Float64Array(values.length);
  for (let start = 0; start < order.length; ) {
    let end = start + 1;
    while (end < order.length && values[order[end]!] === values[order[start]!]) end++;
    // Places start + 1 … end: their mean, twice.
    for (let k = start; k < end; k++) ranks[order[k]!] = start + 1 + end;
    start = end;
  }
  return ranks;
}

function verifyPaired(x: ArrayLike<number>, y: ArrayLike<number>): void {
  if (x.length !== y.length)
    throw new RangeError(`rank agreement needs two scores per item, got ${x.length} and ${y.length}`);
  for (let i = 0; i < x.length; i++)
    if (!(Number.isFinite(x[i]) && Number.isFinite(y[i])))
      throw new RangeError(`rank agreement needs finite scores, got ${x[i]} and ${y[i]} for item ${i}`);
}
