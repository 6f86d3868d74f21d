import { GrowingNumbers, GrowingText, GrowingWords } from "./grow.ts";
import { type ColumnData, numberAt, type Table, textAt } from "./table.ts";

/**
 * The rows of several tables one after another, with the columns of all of them; a cell whose table has no such column
 * is missing.
 *
 * @throws RangeError when a column is of numbers in one table and of text in another
 */
export function joinTables(tables: readonly Table[]): Table {
  const rows = tables.reduce((sum, table) => sum + table.rows, 0);
  const keys = new Set(tables.flatMap((table) => [...table.columns.keys()]));
  return { rows, columns: new Map([...keys].map((key) => [key, joinColumn(key, tables)])) };
}

function joinColumn(key: string, tables: readonly Table[]): ColumnData {
  const kinds = new Set(tables.flatMap((table) => table.columns.get(key)?.kind ?? []));
  if (kinds.has("number")) {
    if (kinds.size > 1)
      throw new RangeError(`joinTables: ${JSON.stringify(key)} is not of numbers everywhere`);
    const growing = new GrowingNumbers();
    eachCell(key, tables, (table, row) =>
      growing.push(table === null ? Number.NaN : numberAt(table, key, row)),
    );
    return growing.finish();
  }
  const growing = kinds.has("text") ? new GrowingText() : new GrowingWords(wordsOf(key, tables));
  eachCell(key, tables, (table, row) => growing.push(table === null ? "" : textAt(table, key, row)));
  return growing.finish();
}

/** Calls with each row of each table, or with null for a row whose table lacks the column. */
function eachCell(
  key: string,
  tables: readonly Table[],
  take: (table: Table | null, row: number) => void,
): void {
  for (const table of tables) {
    const has = table.columns.has(key);
    for (let row = 0; row < table.rows; row++) take(has ? table : null, row);
  }
}

/** The first table's words keep their codes: a column of fixed words has the same list in every table. */
function wordsOf(key: string, tables: readonly Table[]): readonly string[] {
  for (const { columns } of tables) {
    const column = columns.get(key);
    if (column?.kind === "code") return column.words.slice(1);
  }
  return [];
}
