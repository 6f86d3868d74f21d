import type { Metres } from "../quantity/si.ts";
import { metres } from "../quantity/si.ts";

/** What one piece must lie over: a defect with its overlap each side is {@link coverNeeded}. */
export interface Stretch {
  readonly from: Metres;
  readonly to: Metres;
}

/** Where a piece may not lie at all, or may lie but not begin or end. Its edges themselves are free. */
export interface Zone extends Stretch {
  readonly bars: "liner" | "end";
  /** What is there, for people. */
  readonly what: string;
}

/** A length the supplier stocks and its price a piece: whole cents, or any whole number that is to be least in sum. */
export interface StockedPiece {
  readonly length: Metres;
  readonly price: number;
}

export interface PlacingTask {
  readonly pipe: Metres;
  /** In any order; they may overlap. */
  readonly defects: readonly Stretch[];
  /** Sound pipe that a piece must lie on beyond a defect, on each side. */
  readonly overlap: Metres;
  readonly stock: readonly StockedPiece[];
  readonly zones: readonly Zone[];
  /**
   * Least length over which two pieces must lie on each other to count as one; 0 lets them abut. Null: pieces never lie
   * on each other, and each defect with its overlaps is in one piece.
   */
  readonly lap: Metres | null;
  /** Price of lining the whole pipe instead; null where that cannot be done or has no price. */
  readonly fullLengthPrice: number | null;
}

export interface PlacedPiece {
  readonly start: Metres;
  readonly length: Metres;
}

/** Why no set of pieces covers one of the defects. */
export type NotCovered =
  | { readonly kind: "too near the end"; readonly end: "beginning" | "end" }
  | { readonly kind: "longer than any piece"; readonly longest: Metres }
  | { readonly kind: "in the way"; readonly what: string }
  | { readonly kind: "too near another" };

export type Placing =
  | { readonly kind: "placed"; readonly pieces: readonly PlacedPiece[]; readonly price: number }
  | {
      readonly kind: "full length costs no more";
      readonly pieces: readonly PlacedPiece[];
      readonly price: number;
      readonly fullLengthPrice: number;
    }
  | { readonly kind: "impossible"; readonly defect: Stretch; readonly because: NotCovered };

/** A millionth of a millimetre: places that differ by a rounding are the same. */
const SAME = 1e-9;

/** A defect with the overlap it needs on each side. Not cut off at the ends of the pipe: there is nothing to hold to. */
export const coverNeeded = ({ from, to }: Stretch, overlap: Metres): Stretch => ({
  from: metres(from - overlap),
  to: metres(to + overlap),
});

/**
 * The cheapest pieces that cover all defects with their overlaps, or that no set of pieces does, or that lining the
 * whole pipe costs no more.
 *
 * Exact over all positions, not only over a grid, by a dynamic program over labels. Call a run the pieces that lie on
 * each other; without `lap` every run is one piece. Sort the defects by where they begin. Then:
 *
 * 1. What is left to do after a finished run that covers the first k defects depends only on where it ends, and the
 *    sooner it ends the better: the next piece must begin at or after that. So of all places of a run's last piece that
 *    cover up to defect j only the leftmost free one matters. It is a finite choice: the later of the last end and
 *    (what must be reached − length), moved right to the far edge of each zone that it falls into.
 * 2. What is left to do within an unfinished run depends only on its end e and on the beginning p of its last piece, and the farther e the better:
 *    the next piece may begin anywhere in [p, e − lap]. So only the rightmost free place of a piece that the run goes on from
 *    matters. A larger p takes nothing away: a next piece that begins before p could have followed without this one, which it
 *    or its neighbour contains, at a lower price.
 * 3. Of two labels the one that costs no more, has no more pieces and leaves no less freedom stands for both.
 *
 * So the labels are finite in number, and each piece stands at 0, at a defect's edge, a zone's edge or another piece's
 * end, more or less whole lengths, overlaps and laps. Ties: fewer pieces, then the set that ends leftmost, then the
 * shorter pieces; always the same.
 *
 * Source: own derivation; dynamic programming with dominance (Bellman) is textbook. Compared with brute force over
 * whole-number pipes in tests/oracle/place-sections.ts. Holds for any prices above zero.
 */
export function placeSections(task: PlacingTask): Placing {
  verify(task);
  const defects = task.defects.toSorted((a, b) => a.from - b.from || a.to - b.to);
  const needs = defects.map((defect) => coverNeeded(defect, task.overlap));
  const found = cheapest(task, needs);
  if (found.kind === "stuck") return whyNot(task, defects, needs, found.at);
  const { label } = found;
  const pieces = piecesOf(label);
  const { fullLengthPrice } = task;
  if (fullLengthPrice !== null && fullLengthPrice <= label.price)
    return { kind: "full length costs no more", pieces, price: label.price, fullLengthPrice };
  return { kind: "placed", pieces, price: label.price };
}

/**
 * The same pieces, each moved right to the middle of where it may lie without covering less, touching a zone or lying on the
 * next: camera distances drift, so what a stocked length has to spare is shared out to both sides. A piece whose
 * middle is not free stays where it is, and so do pieces that may lie on each other.
 */
export function centrePieces(task: PlacingTask, pieces: readonly PlacedPiece[]): readonly PlacedPiece[] {
  if (task.lap !== null) return pieces;
  const needs = task.defects.map((defect) => coverNeeded(defect, task.overlap));
  return pieces.map(({ start, length }, i) => {
    const covered = needs.filter(({ from, to }) => from >= start - SAME && to <= start + length + SAME);
    const next = pieces[i + 1]?.start ?? task.pipe;
    const latest = Math.min(next - length, ...covered.map(({ from }) => from));
    const middle = (start + Math.max(start, latest)) / 2;
    const isFree = task.zones.every((zone) => barredAt(middle, length, zone) === null);
    return { start: isFree ? metres(middle) : start, length };
  });
}

/** Pieces placed so far, from the last back to the first. */
interface Label {
  readonly price: number;
  readonly count: number;
  readonly start: number;
  readonly end: number;
  readonly length: number;
  readonly before: Label | null;
}

const NOTHING: Label = { price: 0, count: 0, start: 0, end: 0, length: 0, before: null };

type Found =
  | { readonly kind: "found"; readonly label: Label }
  | { readonly kind: "stuck"; readonly at: number };

function cheapest(task: PlacingTask, needs: readonly Stretch[]): Found {
  const { lap, pipe } = task;
  const stock = task.stock.toSorted((a, b) => a.length - b.length || a.price - b.price);
  /** How far the pieces must reach to cover all defects up to each. */
  const reach: number[] = [];
  for (const { to } of needs) reach.push(Math.max(to, reach.at(-1) ?? to));
  /** After a finished run, by how many defects are covered. */
  const finished: Label[][] = Array.from({ length: needs.length + 1 }, () => []);
  finished[0]!.push(NOTHING);

  /** Finishes a run with this piece, at every defect that it can reach. */
  const finish = (piece: StockedPiece, from: Label, first: number, earliest: number, latest: number) => {
    for (let j = first; j < needs.length; j++) {
      const start = leftmost(Math.max(earliest, reach[j]! - piece.length), latest, piece.length, task);
      if (start === null) return;
      keep(finished[j + 1]!, added(from, piece, start), finishedBetter);
    }
  };

  for (let k = 0; k < needs.length; k++) {
    const begin = needs[k]!.from;
    let running: Label[] = [];
    for (const label of finished[k]!) {
      for (const piece of stock) {
        const latest = Math.min(begin, pipe - piece.length);
        finish(piece, label, k, label.end, latest);
        if (lap === null) continue;
        const start = rightmost(label.end, latest, piece.length, task);
        if (start !== null) keep(running, added(label, piece, start), runningBetter);
      }
    }
    if (lap === null) continue;
    const seen: Label[] = [...running];
    while (running.length > 0) {
      const next: Label[] = [];
      for (const label of running) {
        const first = reach.findIndex((to) => to > label.end + SAME);
        if (first < 0) continue;
        for (const piece of stock) {
          const latest = Math.min(label.end - lap, pipe - piece.length);
          finish(piece, label, first, label.start, latest);
          const start = rightmost(label.start, latest, piece.length, task);
          if (start === null || start + piece.length <= label.end + SAME) continue;
          const longer = added(label, piece, start);
          if (keep(seen, longer, runningBetter)) next.push(longer);
        }
      }
      running = next.filter((label) => seen.includes(label));
    }
  }
  const whole = finished[needs.length]!.toSorted(inOrder)[0];
  if (whole !== undefined) return { kind: "found", label: whole };
  return { kind: "stuck", at: finished.findLastIndex((labels) => labels.length > 0) };
}

const added = (before: Label, { length, price }: StockedPiece, start: number): Label => ({
  price: before.price + price,
  count: before.count + 1,
  start,
  end: start + length,
  length,
  before,
});

type Better = (a: Label, b: Label) => boolean;

const noDearer = (a: Label, b: Label): boolean => a.price <= b.price && a.count <= b.count;
const finishedBetter: Better = (a, b) => noDearer(a, b) && a.end <= b.end;
const runningBetter: Better = (a, b) => noDearer(a, b) && a.end >= b.end && a.start <= b.start;

/** Keeps a label unless one of those kept is as good, and drops those that it is better than. */
function keep(labels: Label[], label: Label, isAsGood: Better): boolean {
  if (labels.some((other) => isAsGood(other, label))) return false;
  let kept = 0;
  for (const other of labels) if (!isAsGood(label, other)) labels[kept++] = other;
  labels.length = kept;
  labels.push(label);
  return true;
}

/** No two labels kept are equal in all three. */
const inOrder = (a: Label, b: Label): number => a.price - b.price || a.count - b.count || a.end - b.end;

function piecesOf(label: Label): readonly PlacedPiece[] {
  const pieces: PlacedPiece[] = [];
  for (let at: Label = label; at.before !== null; at = at.before)
    pieces.push({ start: metres(at.start), length: metres(at.length) });
  return pieces.reverse();
}

/** The leftmost free beginning of a piece from the earliest to the latest; null when there is none. */
function leftmost(earliest: number, latest: number, length: number, { zones }: PlacingTask): number | null {
  let start = Math.max(0, earliest);
  for (let moved = true; moved && start <= latest + SAME; ) {
    moved = false;
    for (const zone of zones) {
      const barred = barredAt(start, length, zone);
      if (barred === null) continue;
      start = barred.to;
      moved = true;
    }
  }
  return start <= latest + SAME ? start : null;
}

/** The rightmost free one. */
function rightmost(earliest: number, latest: number, length: number, { zones }: PlacingTask): number | null {
  const least = Math.max(0, earliest);
  let start = latest;
  for (let moved = true; moved && start >= least - SAME; ) {
    moved = false;
    for (const zone of zones) {
      const barred = barredAt(start, length, zone);
      if (barred === null) continue;
      start = barred.from;
      moved = true;
    }
  }
  return start >= least - SAME ? start : null;
}

/** The beginnings that a zone bars around this one; null when it does not bar this one. */
function barredAt(
  start: number,
  length: number,
  { from, to, bars }: Zone,
): { from: number; to: number } | null {
  const within = (low: number, high: number) => start > low + SAME && start < high - SAME;
  if (bars === "liner") return within(from - length, to) ? { from: from - length, to } : null;
  if (within(from, to)) return { from, to };
  return within(from - length, to - length) ? { from: from - length, to: to - length } : null;
}

/** What stops the first defect that cannot be covered; said of it alone where it cannot be even alone. */
function whyNot(
  task: PlacingTask,
  defects: readonly Stretch[],
  needs: readonly Stretch[],
  stuck: number,
): Placing {
  for (const [i, need] of needs.entries()) {
    const defect = defects[i]!;
    if (cheapest(task, [need]).kind === "found") continue;
    const because = whyNotAlone(task, need);
    return { kind: "impossible", defect, because };
  }
  return { kind: "impossible", defect: defects[stuck]!, because: { kind: "too near another" } };
}

function whyNotAlone(task: PlacingTask, need: Stretch): NotCovered {
  if (need.from < -SAME) return { kind: "too near the end", end: "beginning" };
  if (need.to > task.pipe + SAME) return { kind: "too near the end", end: "end" };
  if (cheapest({ ...task, zones: [] }, [need]).kind === "stuck") {
    const longest = Math.max(
      ...task.stock.map(({ length }) => length).filter((length) => length <= task.pipe),
    );
    return { kind: "longer than any piece", longest: metres(longest - 2 * task.overlap) };
  }
  const decisive = task.zones.find(
    (zone) =>
      cheapest({ ...task, zones: task.zones.filter((other) => other !== zone) }, [need]).kind === "found",
  );
  const nearest = task.zones.toSorted((a, b) => distance(a, need) - distance(b, need))[0];
  return { kind: "in the way", what: (decisive ?? nearest)?.what ?? "nothing" };
}

const distance = (zone: Stretch, need: Stretch): number =>
  Math.max(0, zone.from - need.to, need.from - zone.to);

/** @throws RangeError for a task that no caller should make; what a file says badly is answered before. */
function verify({ pipe, defects, overlap, stock, zones, lap }: PlacingTask): void {
  if (!(pipe > 0)) throw new RangeError(`placeSections needs a pipe longer than 0, got ${pipe}`);
  if (!(overlap >= 0)) throw new RangeError(`placeSections needs an overlap of 0 or more, got ${overlap}`);
  if (lap !== null && !(lap >= 0)) throw new RangeError(`placeSections needs a lap of 0 or more, got ${lap}`);
  for (const { from, to } of [...defects, ...zones])
    if (!(from <= to)) throw new RangeError(`placeSections: a stretch from ${from} to ${to}`);
  if (defects.length === 0) throw new RangeError("placeSections: nothing to cover");
  if (stock.length === 0) throw new RangeError("placeSections: no stocked length");
  for (const { length, price } of stock) {
    if (!(length > 0)) throw new RangeError(`placeSections: a piece of length ${length}`);
    if (!(price > 0)) throw new RangeError(`placeSections: a piece at the price ${price}`);
  }
}
