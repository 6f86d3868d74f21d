import type { CellProblem } from "./cell-problem.ts";
import { squashed } from "./headings.ts";

/** The program's own words for one column: the city's word → the column's word, or "" for missing. */
export type OwnWords = Readonly<Record<string, string>>;

/** City words of one column, squashed → the column's word. */
export type WordTable = ReadonlyMap<string, string>;

/**
 * The words of a column: the shared ones, then the program's own, which win.
 *
 * @param shared by the column's word, what cities write for it
 * @param words the column's words; each also stands for itself
 * @throws RangeError when the shared table or the program's own words lead to a word the column does not have
 */
export function wordTable(
  key: string,
  words: readonly string[],
  shared: Readonly<Record<string, readonly string[]>>,
  own: OwnWords | undefined,
): WordTable {
  const table = new Map<string, string>();
  const add = (written: string, word: string) => {
    if (word !== "" && !words.includes(word))
      throw new RangeError(
        `wordTable: ${key} has no word ${JSON.stringify(word)} for ${JSON.stringify(written)}`,
      );
    table.set(squashed(written), word);
  };
  for (const [word, spellings] of Object.entries(shared)) for (const written of spellings) add(written, word);
  for (const word of words) add(word, word);
  for (const [written, word] of Object.entries(own ?? {})) add(written, word);
  return table;
}

/**
 * The column's word for a cell. A cell of several parts, code and meaning (`VCP - Vitrified Clay Pipe`), counts when
 * every part is known and all say the same.
 */
export function readWord(
  text: string,
  table: WordTable,
  key: string,
  words: readonly string[],
): string | CellProblem<string> {
  const whole = table.get(squashed(text));
  if (whole !== undefined) return whole;
  const parts = text.split(/\s[-–—]\s|[():/;,]/).filter((part) => part.trim() !== "");
  const first = table.get(squashed(parts[0] ?? ""));
  if (first !== undefined && parts.length > 1 && parts.every((part) => table.get(squashed(part)) === first))
    return first;
  return {
    severity: "rejected",
    value: "",
    expected: words.join(", "),
    // No word of ours stands in the line: copied as it is, it must be refused and not give the cell a meaning that nobody chose.
    remedy: `Taken as missing. If it is one of these, write that one for … in program.json: "words": { ${JSON.stringify(key)}: { "…": [${JSON.stringify(text)}] } }.`,
  };
}
