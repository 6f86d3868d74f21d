/** The fewest rolls that pieces can be cut from, by trying every way: for a handful of pieces only. */
export function fewestRolls(lengths: readonly number[], roll: number): number {
  let best = lengths.length;
  const place = (at: number, rests: readonly number[]): void => {
    if (rests.length > best || (rests.length === best && at < lengths.length)) return;
    if (at === lengths.length) {
      best = rests.length;
      return;
    }
    const length = lengths[at]!;
    rests.forEach((rest, i) => {
      if (rest >= length) place(at + 1, rests.with(i, rest - length));
    });
    place(at + 1, [...rests, roll - length]);
  };
  if (lengths.length > 0) place(0, []);
  return best;
}
