import { type Table, textAt } from "../sheet/table.ts";
import type { LateralIndex } from "./lateral-file.ts";

const ZERO = 48;

/** Laterals whose id is that of another with zeros before it: `0034` beside `34`. */
export interface ZerosBefore {
  readonly count: number;
  /** The first of them, and the one whose id it is but for the zeros. */
  readonly row: number;
  readonly of: number;
}

/**
 * Looks for ids that differ from another only in leading zeros. Where no id that begins with one is longer than the shortest,
 * nothing is looked up: a million ids of one length take 3 ms.
 */
export function findZerosBefore(table: Table, index: LateralIndex): ZerosBefore | null {
  const ids = table.columns.get("lateral");
  if (ids?.kind !== "text") return null;
  const { bytes, ends } = ids;
  let shortest = Number.POSITIVE_INFINITY;
  let longestWithZero = 0;
  for (let row = 0; row < table.rows; row++) {
    const length = ends[row + 1]! - ends[row]!;
    if (length < shortest) shortest = length;
    if (bytes[ends[row]!] === ZERO && length > longestWithZero) longestWithZero = length;
  }
  if (longestWithZero <= shortest) return null;

  const lengths = new Set<number>();
  for (let row = 0; row < table.rows; row++) lengths.add(ends[row + 1]! - ends[row]!);
  let count = 0;
  let first: Pick<ZerosBefore, "row" | "of"> | null = null;
  for (let row = 0; row < table.rows; row++) {
    const start = ends[row]!;
    const end = ends[row + 1]!;
    let bare = start;
    while (bare < end - 1 && bytes[bare] === ZERO) bare++;
    // The id with the fewest zeros first: it is what a spreadsheet makes of the others.
    for (; bare > start; bare--) {
      if (!lengths.has(end - bare)) continue;
      const of = index.get(textAt(table, "lateral", row).slice(bare - start));
      if (of === undefined) continue;
      count++;
      first ??= { row, of };
      break;
    }
  }
  return first === null ? null : { count, ...first };
}
