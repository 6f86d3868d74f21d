/** Distance between two places by their number; symmetric. */
export type Distance = (from: number, to: number) => number;

/** Places are compared only with so many nearest ones beyond this count: all pairs of 2,000 are four million distances. */
const ALL_PAIRS_UP_TO = 1200;

/** An improvement below this is rounding, and would go round in circles. */
const LEAST_GAIN = 1e-9;

/** Sweeps of improvement at the most: each costs n² at most, and few are needed. */
const MOST_SWEEPS = 60;

/**
 * A short closed tour through all places, from the first: nearest neighbour, then 2-opt and Or-opt until neither helps.
 * A heuristic: good, not proved shortest. Up to {@link EXACT_UP_TO} places it is the shortest ({@link shortestTour}).
 *
 * Source: G. A. Croes, "A method for solving traveling-salesman problems", Operations Research 6, 1958 (2-opt); I. Or,
 * dissertation, Northwestern University, 1976 (moving up to three places).
 */
export function findTour(places: number, distance: Distance): readonly number[] {
  if (places <= EXACT_UP_TO) return shortestTour(places, distance);
  const tour = nearestNeighbour(places, distance);
  if (places > ALL_PAIRS_UP_TO) return improveWithin(tour, distance, NEAR_IN_TOUR);
  return improveWithin(tour, distance, places);
}

/** In a long tour only places so near in the tour are exchanged. */
const NEAR_IN_TOUR = 50;

export const tourLength = (tour: readonly number[], distance: Distance): number =>
  tour.reduce((sum, place, i) => sum + distance(place, tour[(i + 1) % tour.length]!), 0);

/** Places up to which the shortest tour is found by going through all sets of places: 2^(n−1) × n numbers. */
export const EXACT_UP_TO = 9;

/**
 * The shortest closed tour from place 0, by dynamic programming over sets of places.
 *
 * Source: M. Held and R. M. Karp, "A dynamic programming approach to sequencing problems", J. SIAM 10, 1962.
 * Holds for few places: memory grows as 2^n.
 */
export function shortestTour(places: number, distance: Distance): readonly number[] {
  if (places > 16) throw new RangeError(`shortestTour: ${places} places are too many to go through`);
  if (places <= 3) return Array.from({ length: places }, (_, i) => i);
  const others = places - 1;
  const sets = 1 << others;
  const best = new Float64Array(sets * others).fill(Number.POSITIVE_INFINITY);
  const from = new Int8Array(sets * others).fill(-1);
  for (let j = 0; j < others; j++) best[(1 << j) * others + j] = distance(0, j + 1);
  for (let set = 1; set < sets; set++)
    for (let last = 0; last < others; last++) {
      const here = best[set * others + last]!;
      if (here === Number.POSITIVE_INFINITY) continue;
      for (let next = 0; next < others; next++) {
        if ((set & (1 << next)) !== 0) continue;
        const at = (set | (1 << next)) * others + next;
        const length = here + distance(last + 1, next + 1);
        if (length < best[at]!) {
          best[at] = length;
          from[at] = last;
        }
      }
    }
  let set = sets - 1;
  let last = 0;
  const closed = (j: number) => best[set * others + j]! + distance(j + 1, 0);
  for (let j = 1; j < others; j++) if (closed(j) < closed(last)) last = j;
  const tour: number[] = [];
  while (last >= 0) {
    tour.unshift(last + 1);
    const before = from[set * others + last]!;
    set &= ~(1 << last);
    last = before;
  }
  return [0, ...tour];
}

function nearestNeighbour(places: number, distance: Distance): number[] {
  const left = new Set(Array.from({ length: places }, (_, i) => i));
  const tour: number[] = [];
  let at = 0;
  while (left.size > 0) {
    left.delete(at);
    tour.push(at);
    let nearest = -1;
    let least = Number.POSITIVE_INFINITY;
    for (const each of left) {
      const away = distance(at, each);
      if (away < least) {
        least = away;
        nearest = each;
      }
    }
    at = nearest;
  }
  return tour;
}

function improveWithin(tour: number[], distance: Distance, window: number): readonly number[] {
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    const turned = turnPieces(tour, distance, window);
    const moved = movePieces(tour, distance, window);
    if (!turned && !moved) break;
  }
  const start = tour.indexOf(0);
  return [...tour.slice(start), ...tour.slice(0, start)];
}

/** 2-opt: turns a piece of the tour round where that shortens it. */
function turnPieces(tour: number[], distance: Distance, window: number): boolean {
  const n = tour.length;
  let better = false;
  for (let i = 0; i < n - 2; i++)
    for (let j = i + 2; j < Math.min(n, i + window); j++) {
      const [a, b, c, d] = [tour[i]!, tour[i + 1]!, tour[j]!, tour[(j + 1) % n]!];
      if (a === d) continue;
      if (distance(a, c) + distance(b, d) < distance(a, b) + distance(c, d) - LEAST_GAIN) {
        for (let low = i + 1, high = j; low < high; low++, high--)
          [tour[low], tour[high]] = [tour[high]!, tour[low]!];
        better = true;
      }
    }
  return better;
}

/** Or-opt: takes one to three places in a row out and puts them, either way round, between two others. */
function movePieces(tour: number[], distance: Distance, window: number): boolean {
  const n = tour.length;
  let better = false;
  for (let length = 1; length <= 3; length++)
    for (let i = 1; i + length < n; i++) {
      const piece = tour.slice(i, i + length);
      const [first, last] = [piece[0]!, piece.at(-1)!];
      const [before, behind] = [tour[i - 1]!, tour[(i + length) % n]!];
      const saved = distance(before, first) + distance(last, behind) - distance(before, behind);
      if (saved <= LEAST_GAIN) continue;
      const place = cheapestPlace(tour, i, length, first, last, window, distance);
      if (place === null || place.cost >= saved - LEAST_GAIN) continue;
      tour.splice(i, length);
      const at = place.at > i ? place.at - length : place.at;
      tour.splice(at + 1, 0, ...(place.turned ? piece.reverse() : piece));
      better = true;
    }
  return better;
}

/** Behind which place the piece costs least, and whether turned round. */
function cheapestPlace(
  tour: readonly number[],
  i: number,
  length: number,
  first: number,
  last: number,
  window: number,
  distance: Distance,
): { readonly at: number; readonly turned: boolean; readonly cost: number } | null {
  const n = tour.length;
  let found: { at: number; turned: boolean; cost: number } | null = null;
  for (let at = Math.max(0, i - window); at < Math.min(n, i + length + window); at++) {
    if (at >= i - 1 && at < i + length) continue;
    const [a, b] = [tour[at]!, tour[(at + 1) % n]!];
    const gap = distance(a, b);
    const straight = distance(a, first) + distance(last, b) - gap;
    const round = distance(a, last) + distance(first, b) - gap;
    const cost = Math.min(straight, round);
    if (found === null || cost < found.cost) found = { at, turned: round < straight, cost };
  }
  return found;
}
