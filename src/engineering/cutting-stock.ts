/**
 * Cutting pieces of given lengths from rolls of one length: the one-dimensional cutting-stock (bin-packing) problem.
 * Lengths are whole numbers of the smallest unit cut (millimetres), so that sums are exact.
 */

/** One roll, with the pieces cut from it in the order they are cut, by their place in the list given. */
export interface CutRoll {
  readonly pieces: readonly number[];
  readonly left: number;
}

/**
 * First-fit decreasing: the longest piece first, each from the first roll that still has room for it.
 *
 * Never more than 11/9 · OPT + 6/9 rolls: Dósa, "The tight bound of first fit decreasing bin-packing algorithm is
 * FFD(I) ≤ 11/9 OPT(I) + 6/9", ESCAPE 2007, LNCS 4614 (from memory, unverified). Equal pieces keep the order given.
 * A tournament tree over the rolls' rests finds the first with room in O(log n).
 *
 * @throws RangeError for a piece that is no positive whole number or is longer than a roll
 */
export function cutFirstFitDecreasing(lengths: readonly number[], roll: number): readonly CutRoll[] {
  verify(lengths, roll);
  const order = lengths.map((_, i) => i).sort((a, b) => lengths[b]! - lengths[a]! || a - b);
  let width = 1;
  while (width < lengths.length) width *= 2;
  // Node 1 is the root; leaf `width + i` is what roll i has left; an uncut roll is whole.
  const most = new Float64Array(2 * width).fill(roll);
  const rolls: { readonly pieces: number[]; left: number }[] = [];
  for (const piece of order) {
    const length = lengths[piece]!;
    let node = 1;
    while (node < width) node = most[2 * node]! >= length ? 2 * node : 2 * node + 1;
    const at = node - width;
    if (at === rolls.length) rolls.push({ pieces: [], left: roll });
    const cut = rolls[at]!;
    cut.pieces.push(piece);
    cut.left -= length;
    most[node] = cut.left;
    for (node >>= 1; node >= 1; node >>= 1) most[node] = Math.max(most[2 * node]!, most[2 * node + 1]!);
  }
  return rolls;
}

/** ⌈Σ lengths / roll⌉: no cutting needs fewer rolls than this. */
export function boundByLength(lengths: readonly number[], roll: number): number {
  verify(lengths, roll);
  return Math.ceil(lengths.reduce((sum, length) => sum + length, 0) / roll);
}

/**
 * Lower bound L2 of Martello and Toth: pieces over half a roll share no roll, and those of them that leave less than α
 * take none of the pieces of α or longer.
 *
 *   L2 = max over 0 ≤ α ≤ R/2 of |J1| + |J2| + max(0, ⌈(ΣJ3 − (|J2|·R − ΣJ2)) / R⌉)
 *   J1: w > R − α;  J2: R − α ≥ w > R/2;  J3: R/2 ≥ w ≥ α
 *
 * Only α = 0 and the lengths up to R/2 can be its maximum. At α = 0 it is at least ⌈Σ/R⌉.
 * Source: Martello and Toth, "Lower bounds and reduction procedures for the bin packing problem", Discrete Applied
 * Mathematics 28 (1990), pp. 59–70 (from memory, unverified); tested here against exhaustive search.
 */
export function boundByMartelloToth(lengths: readonly number[], roll: number): number {
  verify(lengths, roll);
  const long = lengths.filter((length) => 2 * length > roll).sort((a, b) => a - b);
  const short = lengths.filter((length) => 2 * length <= roll).sort((a, b) => b - a);
  let best = 0;
  let shortSum = 0;
  // α falls from the longest short piece to 0: J3 grows, and pieces go from J1 to J2, the shortest first.
  let inJ2 = 0;
  let sumJ2 = 0;
  for (let i = 0; i <= short.length; i++) {
    const alpha = i < short.length ? short[i]! : 0;
    if (i < short.length) shortSum += alpha;
    if (i + 1 < short.length && short[i + 1] === alpha) continue;
    while (inJ2 < long.length && long[inJ2]! <= roll - alpha) sumJ2 += long[inJ2++]!;
    const over = Math.ceil((shortSum - (inJ2 * roll - sumJ2)) / roll);
    // |J1| + |J2| is every long piece, whatever α.
    best = Math.max(best, long.length + Math.max(0, over));
  }
  return best;
}

function verify(lengths: readonly number[], roll: number): void {
  if (!(Number.isSafeInteger(roll) && roll > 0))
    throw new RangeError(`cutting needs a roll of a whole length above 0, got ${roll}`);
  for (const length of lengths)
    if (!(Number.isSafeInteger(length) && length > 0 && length <= roll))
      throw new RangeError(`cutting needs whole lengths above 0 and up to the roll's ${roll}, got ${length}`);
}
