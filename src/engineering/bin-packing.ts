/** A packing: the items of each bin by their number, and what is known of the least number of bins. */
export interface Packing {
  /** Item numbers, each in one bin. */
  readonly bins: readonly (readonly number[])[];
  /** No packing has fewer bins. */
  readonly lowerBound: number;
  /** Whether the number of bins is proved least. */
  readonly exact: boolean;
}

/**
 * Packs items into as few bins as can be found. Sizes and capacity are whole numbers (minutes), so that "fits" has no
 * rounding in it. The order given is tried first and kept where it needs no more bins, so that what lies together stays
 * together; then best fit decreasing; where the bound is not met, a search over fillings of one bin after another.
 *
 * Source: S. Martello and P. Toth, "Knapsack Problems", 1990, chapter 8 (best fit decreasing, bound L2).
 *
 * @param effort how many fillings the search may look at; the same effort gives the same packing
 * @throws RangeError for an item that is not whole, below 1, or above the capacity
 */
export function packBins(
  sizes: readonly number[],
  capacity: number,
  effort = effortFor(sizes.length),
): Packing {
  const wrong = sizes.find((size) => !(Number.isInteger(size) && size >= 1 && size <= capacity));
  if (wrong !== undefined) throw new RangeError(`packBins: an item of ${wrong} in bins of ${capacity}`);
  const lowerBound = lowerBoundL2(sizes, capacity);
  const done = (bins: Bins): Packing => ({ bins, lowerBound, exact: bins.length === lowerBound });
  const byFit = bestFitDecreasing(sizes, capacity);
  const inTurn = nextFit(sizes, capacity);
  const first = inTurn.length <= byFit.length ? inTurn : byFit;
  if (first.length === lowerBound || sizes.length > SEARCHED_UP_TO) return done(first);
  const search = searchPacking(sizes, capacity, lowerBound, first.length - 1, effort);
  return search.bins === null
    ? { bins: first, lowerBound: search.whole ? first.length : lowerBound, exact: search.whole }
    : { bins: search.bins, lowerBound: search.below, exact: search.below === search.bins.length };
}

/** A search that takes about the same time for any number of items: a filling looks at all of them. */
const effortFor = (items: number): number => Math.ceil(20_000_000 / Math.max(1, items));

/** Items beyond which only the heuristics run: the search is as deep as there are items. */
const SEARCHED_UP_TO = 600;

type Bins = readonly (readonly number[])[];

/**
 * Lower bound L2 on the number of bins.
 *
 *   L2 = max over k of |J1| + |J2| + max(0, ⌈(Σ J3 − (|J2|·c − Σ J2)) / c⌉)
 *   J1: w > c − k ; J2: c/2 < w ≤ c − k ; J3: k ≤ w ≤ c/2 ; k from 0 and the sizes up to c/2
 *
 * Source: S. Martello and P. Toth, "Lower bounds and reduction procedures for the bin packing problem", Discrete Applied
 * Mathematics 28, 1990. It contains the plain bound ⌈Σ w / c⌉ (k = 0).
 */
export function lowerBoundL2(sizes: readonly number[], capacity: number): number {
  const sorted = [...sizes].sort((a, b) => b - a);
  const sums = [0];
  for (const size of sorted) sums.push(sums.at(-1)! + size);
  /** How many of the sorted items are above a size. */
  const above = (limit: number): number => {
    let low = 0;
    let high = sorted.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (sorted[middle]! > limit) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  const half = above(capacity / 2);
  let most = 0;
  for (const k of new Set([0, ...sorted.slice(half)])) {
    const alone = above(capacity - k);
    const small = above(k - 1);
    // With k above the half none is small; k is a size of the lower half, so J3 is never before J2.
    const room = (half - alone) * capacity - (sums[half]! - sums[alone]!);
    const rest = Math.max(0, sums[small]! - sums[half]! - room);
    most = Math.max(most, half + Math.ceil(rest / capacity));
  }
  return most;
}

/** In the order given: a new bin when the next does not fit. The fewest bins for that order. */
export function nextFit(sizes: readonly number[], capacity: number): Bins {
  const bins: number[][] = [];
  let room = 0;
  sizes.forEach((size, item) => {
    if (size > room) {
      bins.push([]);
      room = capacity;
    }
    bins.at(-1)!.push(item);
    room -= size;
  });
  return bins;
}

/** Largest first, each into the fullest bin it fits. At most 11/9 of the least number of bins, and 4 (Johnson, 1973). */
function bestFitDecreasing(sizes: readonly number[], capacity: number): Bins {
  const bins: { room: number; readonly items: number[] }[] = [];
  for (const item of largestFirst(sizes)) {
    const size = sizes[item]!;
    let best: (typeof bins)[number] | null = null;
    for (const bin of bins) if (bin.room >= size && (best === null || bin.room < best.room)) best = bin;
    if (best === null) {
      best = { room: capacity, items: [] };
      bins.push(best);
    }
    best.items.push(item);
    best.room -= size;
  }
  return bins.map(({ items }) => items);
}

const largestFirst = (sizes: readonly number[]): readonly number[] =>
  [...sizes.keys()].sort((a, b) => sizes[b]! - sizes[a]! || a - b);

interface Search {
  /** The best found with at most the bins asked for, or null. */
  readonly bins: Bins | null;
  /** No packing has fewer bins than this. */
  readonly below: number;
  /** Whether every filling was looked at, so that null means there is none. */
  readonly whole: boolean;
}

/** Asks for the bound with half of the effort, then for one bin more with half of the rest, and so on. */
function searchPacking(
  sizes: readonly number[],
  capacity: number,
  lowerBound: number,
  most: number,
  effort: number,
): Search {
  let below = lowerBound;
  let rest = effort;
  for (let bins = lowerBound; bins <= most; bins++) {
    rest = Math.ceil(rest / 2);
    const found = packInto(sizes, capacity, bins, rest);
    if (found.bins !== null) return { bins: found.bins, below, whole: found.whole };
    if (found.whole && below === bins) below = bins + 1;
  }
  return { bins: null, below, whole: below > most };
}

/**
 * Whether the items go into so many bins, by branch and bound: the largest item left opens a bin, which is filled in every
 * way that cannot be bettered by one more item (fullest first); room wasted so far bounds the rest.
 */
function packInto(
  sizes: readonly number[],
  capacity: number,
  bins: number,
  effort: number,
): { readonly bins: Bins | null; readonly whole: boolean } {
  const order = largestFirst(sizes);
  const weights = order.map((item) => sizes[item]!);
  const smallest = weights.at(-1) ?? 0;
  const used = new Array<boolean>(order.length).fill(false);
  const packed: number[][] = [];
  let waste = bins * capacity - weights.reduce((sum, weight) => sum + weight, 0);
  let left = effort;
  let whole = true;

  const next = (): boolean => {
    const first = used.indexOf(false);
    if (first < 0) return true;
    if (packed.length === bins) return false;
    used[first] = true;
    packed.push([first]);
    if (fill(first + 1, capacity - weights[first]!)) return true;
    packed.pop();
    used[first] = false;
    return false;
  };

  const fill = (from: number, room: number): boolean => {
    if (left-- <= 0) {
      whole = false;
      return false;
    }
    const bin = packed.at(-1)!;
    let tried = -1;
    for (let at = from; at < weights.length; at++) {
      const weight = weights[at]!;
      if (used[at] === true || weight > room || weight === tried) continue;
      tried = weight;
      // Nothing more would fit beside it, and the room left is more than may be wasted.
      if (room - weight < smallest && room - weight > waste) continue;
      used[at] = true;
      bin.push(at);
      if (fill(at + 1, room - weight)) return true;
      bin.pop();
      used[at] = false;
      if (!whole) return false;
      // An item that fills the bin exactly is as good as any other way to end it.
      if (weight === room) return false;
    }
    // Closed here only if nothing left over would fit: a bin that could take one more is never better.
    if (weights.some((weight, at) => used[at] !== true && weight <= room)) return false;
    if (room > waste) return false;
    waste -= room;
    if (next()) return true;
    waste += room;
    return false;
  };

  const found = next();
  return {
    bins: found ? packed.map((bin) => bin.map((at) => order[at]!)) : null,
    whole: found || whole,
  };
}
