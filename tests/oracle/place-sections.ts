/**
 * Brute force for sections in a pipe of whole numbers: every set of pieces at every whole place, up to so many pieces.
 * A whole-number task has a whole-number optimum (all its edges and lengths are whole), so nothing is missed.
 */
export interface WholeTask {
  readonly pipe: number;
  /** What must be covered, overlaps included. */
  readonly needs: readonly (readonly [number, number])[];
  readonly stock: readonly (readonly [length: number, price: number])[];
  readonly zones: readonly { readonly from: number; readonly to: number; readonly bars: "liner" | "end" }[];
  readonly lap: number | null;
}

export interface Best {
  readonly price: number;
  readonly count: number;
  readonly end: number;
}

export function bruteForce(task: WholeTask, mostPieces: number): Best | null {
  let best: Best | null = null;
  const pieces: (readonly [number, number])[] = [];
  const place = (price: number): void => {
    if (isWhole(task, pieces)) {
      const found = { price, count: pieces.length, end: Math.max(0, ...pieces.map((p) => p[1])) };
      if (best === null || isBetter(found, best)) best = found;
    }
    if (pieces.length === mostPieces) return;
    const last = pieces.at(-1);
    for (const [length, each] of task.stock) {
      for (let start = last?.[0] ?? 0; start + length <= task.pipe; start++) {
        if (!mayFollow(last, start, start + length, task.lap) || isBarred(task, start, start + length))
          continue;
        pieces.push([start, start + length]);
        place(price + each);
        pieces.pop();
      }
    }
  };
  place(0);
  return best;
}

const isBetter = (a: Best, b: Best): boolean =>
  a.price !== b.price ? a.price < b.price : a.count !== b.count ? a.count < b.count : a.end < b.end;

function mayFollow(
  last: readonly [number, number] | undefined,
  start: number,
  end: number,
  lap: number | null,
): boolean {
  if (last === undefined || start >= last[1]) return true;
  return lap !== null && start <= last[1] - lap && end > last[1];
}

const isBarred = ({ zones }: WholeTask, start: number, end: number): boolean =>
  zones.some(({ from, to, bars }) => {
    if (bars === "liner") return start < to && end > from;
    return (start > from && start < to) || (end > from && end < to);
  });

/** Each need lies in one run of pieces that lap, or in one piece. */
function isWhole({ needs, lap }: WholeTask, pieces: readonly (readonly [number, number])[]): boolean {
  const runs: [number, number][] = [];
  for (const [start, end] of pieces) {
    const run = runs.at(-1);
    if (run !== undefined && lap !== null && start <= run[1] - lap) run[1] = Math.max(run[1], end);
    else runs.push([start, end]);
  }
  return needs.every(([from, to]) => runs.some(([start, end]) => start <= from && end >= to));
}
