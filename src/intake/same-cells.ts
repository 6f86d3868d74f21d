import type { ColumnData, Table } from "../sheet/table.ts";

const decoder = new TextDecoder();

/** Columns, other than those passed over, in which two rows of two tables of the same columns differ. */
export function differingColumns(
  a: Table,
  rowA: number,
  b: Table,
  rowB: number,
  passedOver: ReadonlySet<string>,
): string[] {
  const differing: string[] = [];
  for (const [key, column] of a.columns) {
    const other = b.columns.get(key);
    if (other === undefined)
      throw new RangeError(`differingColumns: the second table has no ${JSON.stringify(key)}`);
    if (!passedOver.has(key) && cellKey(column, rowA) !== cellKey(other, rowB)) differing.push(key);
  }
  return differing;
}

/** Text that two cells of a column share when, and only when, they hold the same. */
export function cellKey(column: ColumnData, row: number): string {
  switch (column.kind) {
    case "number":
      return String(column.values[row]);
    case "code":
      return column.words[column.codes[row] ?? 0] ?? "";
    case "text":
      return decoder.decode(column.bytes.slice(column.ends[row], column.ends[row + 1]));
    default:
      return column satisfies never;
  }
}
