/**
 * The word of the list that somebody most likely meant, or null when none is near: at most a third of its letters
 * differ (two at least), upper and lower case and the marks between words aside.
 */
export function nearestWord(typed: string, words: readonly string[]): string | null {
  const plain = (text: string) => text.toLowerCase().replace(/[\s_-]+/g, "");
  const wanted = plain(typed);
  let best: string | null = null;
  let fewest = Math.max(2, Math.floor(wanted.length / 3)) + 1;
  for (const word of words) {
    const apart = lettersApart(wanted, plain(word));
    if (apart < fewest && apart < word.length) [best, fewest] = [word, apart];
  }
  return best;
}

/** Letters to put in, take out or replace to get from one text to the other (Levenshtein 1966). */
function lettersApart(a: string, b: string): number {
  let above = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let row = 1; row <= a.length; row++) {
    const here = [row];
    for (let i = 1; i <= b.length; i++) {
      const replaced = above[i - 1]! + (a[row - 1] === b[i - 1] ? 0 : 1);
      here.push(Math.min(replaced, above[i]! + 1, here[i - 1]! + 1));
    }
    above = here;
  }
  return above[b.length]!;
}
