/** Fewest bins by trying every item in every bin opened so far and in a new one. Only for a handful of items. */
export function fewestBins(sizes: readonly number[], capacity: number): number {
  let best = sizes.length;
  const bins: number[] = [];
  const put = (item: number): void => {
    if (bins.length >= best) return;
    if (item === sizes.length) {
      best = bins.length;
      return;
    }
    const size = sizes[item]!;
    for (let bin = 0; bin < bins.length; bin++) {
      if (bins[bin]! + size > capacity) continue;
      bins[bin]! += size;
      put(item + 1);
      bins[bin]! -= size;
    }
    bins.push(size);
    put(item + 1);
    bins.pop();
  };
  put(0);
  return best;
}
