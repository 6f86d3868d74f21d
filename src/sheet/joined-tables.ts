import { GrowingText } from "./grow.ts";
import { type ColumnData, type Table, textAt, unwrittenNumbers } from "./table.ts";

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
    return joinNumbers(key, tables);
  }
  if (!kinds.has("text")) return joinCodes(key, tables);
  const growing = new GrowingText();
  eachCell(key, tables, (table, row) => growing.push(table === null ? "" : textAt(table, key, row)));
  return growing.finish();
}

function joinNumbers(key: string, tables: readonly Table[]): ColumnData {
  const joined = unwrittenNumbers(tables.reduce((sum, { rows }) => sum + rows, 0));
  let at = 0;
  for (const { rows, columns } of tables) {
    const column = columns.get(key);
    if (column?.kind === "number") joined.values.set(column.values, at);
    else joined.values.fill(Number.NaN, at, at + rows);
    at += rows;
  }
  return joined;
}

/** Words get their codes in the order they are met, each looked up once a table. */
function joinCodes(key: string, tables: readonly Table[]): ColumnData {
  const words = ["", ...wordsOf(key, tables)];
  const codeOf = new Map(words.map((word, code) => [word, code]));
  const codes = new Uint32Array(new SharedArrayBuffer(4 * tables.reduce((sum, { rows }) => sum + rows, 0)));
  let at = 0;
  for (const { rows, columns } of tables) {
    const column = columns.get(key);
    if (column?.kind === "code") {
      const ours = new Int32Array(column.words.length).fill(NOT_MET);
      ours[0] = 0;
      for (let row = 0; row < rows; row++) {
        const theirs = column.codes[row]!;
        if (ours[theirs] === NOT_MET) {
          const word = column.words[theirs]!;
          const code = codeOf.get(word) ?? words.push(word) - 1;
          codeOf.set(word, code);
          ours[theirs] = code;
        }
        codes[at + row] = ours[theirs]!;
      }
    }
    at += rows;
  }
  return { kind: "code", codes, words };
}

const NOT_MET = -1;

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
