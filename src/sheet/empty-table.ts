import type { Column } from "../columns/column.ts";
import { type ColumnData, missingNumbers, missingWords, type Table } from "./table.ts";

/** A column of which nothing is known: as many missing cells as rows. */
export function absentColumn(
  { measure, words }: Pick<Column, "measure" | "words">,
  rows: number,
): ColumnData {
  switch (measure) {
    case "text":
      return {
        kind: "text",
        bytes: new Uint8Array(new SharedArrayBuffer(0)),
        ends: new Uint32Array(new SharedArrayBuffer((rows + 1) * 4)),
      };
    case "code":
      return missingWords(rows, words ?? []);
    default:
      return missingNumbers(rows);
  }
}

/** A table of these columns with no rows, for a file the program does not have. */
export const emptyTable = (columns: readonly Column[]): Table => ({
  rows: 0,
  columns: new Map(columns.map((column) => [column.key, absentColumn(column, 0)])),
});
