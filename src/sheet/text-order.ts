import { sortedByText } from "./digit-order.ts";
import { type Table, type TextColumn, textAt } from "./table.ts";

/** Bytes of a text up to which all are put in order by their letters: so many steps would be taken for one such text among short ones. */
const LONG = 32;

/**
 * The rows of a table in the order of their text, by code points. Free text is sorted by the bytes where it lies, without
 * making strings of it, for UTF-8 sorts as its code points do.
 *
 * @throws RangeError when the table has no such column of words or text
 */
export function rowsByText(table: Table, key: string): Uint32Array {
  const rows = new Uint32Array(table.rows);
  for (let row = 0; row < rows.length; row++) rows[row] = row;
  const column = table.columns.get(key);
  if (column?.kind === "text") {
    const longest = longestOf(column);
    return longest <= LONG
      ? sortedByText(rows, column, longest)
      : rows.sort((a, b) => compareBytes(column, a, b));
  }
  const texts = Array.from(rows, (row) => textAt(table, key, row));
  return rows.sort((a, b) => (texts[a]! < texts[b]! ? -1 : texts[a] === texts[b] ? 0 : 1));
}

function longestOf({ ends }: TextColumn): number {
  let longest = 0;
  for (let row = 1; row < ends.length; row++) longest = Math.max(longest, ends[row]! - ends[row - 1]!);
  return longest;
}

function compareBytes({ bytes, ends }: TextColumn, a: number, b: number): number {
  const startA = ends[a]!;
  const startB = ends[b]!;
  const lengthA = ends[a + 1]! - startA;
  const lengthB = ends[b + 1]! - startB;
  const both = Math.min(lengthA, lengthB);
  for (let i = 0; i < both; i++) {
    const differs = bytes[startA + i]! - bytes[startB + i]!;
    if (differs !== 0) return differs;
  }
  return lengthA - lengthB;
}
