/**
 * Names for a heading row, each different: spaces tidied, the second `DIAM` becomes `DIAM [2]`, a blank heading in
 * the third column `[column 3]`. Settings name columns this way.
 */
export function uniqueHeadings(cells: readonly string[]): string[] {
  const taken = new Set<string>();
  /** The next copy of a heading: a hostile row has hundreds of thousands, and looking from 2 each time never ends. */
  const nextCopy = new Map<string, number>();
  return cells.map((cell, i) => {
    const heading = cell.replace(/\s+/g, " ").trim() || `[column ${i + 1}]`;
    let name = heading;
    let copy = nextCopy.get(heading) ?? 2;
    for (; taken.has(name); copy++) name = `${heading} [${copy}]`;
    nextCopy.set(heading, copy);
    taken.add(name);
    return name;
  });
}

/**
 * Letters and digits only, lower case, without accents: `Cross-bore` and `CROSSBORE`, `L.S. 14` and `ls14`,
 * `Länge` and `lange` are the same word.
 */
export const squashed = (text: string): string =>
  text
    .toLowerCase()
    .replaceAll("ß", "ss")
    .normalize("NFD")
    .replace(/[^\p{L}\p{N}]/gu, "");
