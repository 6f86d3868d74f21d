/**
 * Names for a heading row, each different: spaces tidied, the second `DIAM` becomes `DIAM [2]`, a blank heading in
 * the third column `[column 3]`. Settings name columns this way.
 */
export function uniqueHeadings(cells: readonly string[]): string[] {
  const taken = new Set<string>();
  return cells.map((cell, i) => {
    const heading = cell.replace(/\s+/g, " ").trim() || `[column ${i + 1}]`;
    let name = heading;
    for (let copy = 2; taken.has(name); copy++) name = `${heading} [${copy}]`;
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
