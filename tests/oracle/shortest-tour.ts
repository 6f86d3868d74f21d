/** Length of the shortest closed tour by going through every order. Only for a handful of places. */
export function shortestByTrying(places: number, distance: (a: number, b: number) => number): number {
  let best = Number.POSITIVE_INFINITY;
  const go = (at: number, left: readonly number[], length: number): void => {
    if (left.length === 0) best = Math.min(best, length + distance(at, 0));
    for (const next of left)
      go(
        next,
        left.filter((each) => each !== next),
        length + distance(at, next),
      );
  };
  go(
    0,
    Array.from({ length: places - 1 }, (_, i) => i + 1),
    0,
  );
  return best;
}
