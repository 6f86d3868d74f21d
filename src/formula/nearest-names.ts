/** At most three of the names that somebody may have meant: one that starts with the same letters, or is two slips away. */
export function nearestNames(written: string, names: readonly string[]): readonly string[] {
  const lower = written.toLowerCase();
  const ranked = names
    .map((name) => ({ name, distance: name.startsWith(lower) ? 0 : slips(lower, name) }))
    .filter(({ distance }) => distance <= Math.min(2, Math.floor(written.length / 2)));
  ranked.sort((a, b) => a.distance - b.distance || (a.name < b.name ? -1 : 1));
  return ranked.slice(0, 3).map(({ name }) => name);
}

/** Letters to add, drop or change to get from one word to the other (edit distance, by rows of its table). */
function slips(a: string, b: string): number {
  let above = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = (above[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      row.push(Math.min((above[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, change));
    }
    above = row;
  }
  return above[b.length] ?? 0;
}
