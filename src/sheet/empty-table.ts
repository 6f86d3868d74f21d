import type { Column } from "../columns/column.ts";
import { isNumeric } from "../quantity/measure.ts";
import { missingNumbers, missingWords, type Table } from "./table.ts";

/** A table of these columns with no rows, for a file the program does not have. */
export const emptyTable = (columns: readonly Column[]): Table => ({
  rows: 0,
  columns: new Map(
    columns.map(({ key, measure, words }) => [
      key,
      isNumeric(measure) ? missingNumbers(0) : missingWords(0, words ?? []),
    ]),
  ),
});
