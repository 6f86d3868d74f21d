import { numberAt, type Table } from "../sheet/table.ts";

/**
 * Where each lateral's rows are in a table of offers or bid lines, which holds them in the order of the laterals:
 * those of lateral r are rows `first[r]` up to `first[r + 1]`.
 */
export function firstOwnRows(table: Table, laterals: number): Uint32Array {
  const first = new Uint32Array(laterals + 1);
  for (let at = 0; at < table.rows; at++) first[numberAt(table, "lateral_row", at) + 1]!++;
  for (let row = 0; row < laterals; row++) first[row + 1]! += first[row]!;
  return first;
}
