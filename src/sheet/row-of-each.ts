import { type Table, textAt } from "./table.ts";

/** Row of each text of a column, such as the ids of laterals; the last of those that are the same. */
export const rowOfEach = (table: Table, key: string): ReadonlyMap<string, number> =>
  new Map(Array.from({ length: table.rows }, (_, row) => [textAt(table, key, row), row]));
