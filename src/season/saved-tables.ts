import type { Column } from "../columns/column.ts";
import { inspectionColumns, lateralColumns, observationColumns } from "../columns/lateral-columns.ts";
import { absentColumn } from "../sheet/empty-table.ts";
import { GrowingNumbers, GrowingText, GrowingWords } from "../sheet/grow.ts";
import { type ColumnData, numberAt, type Table, textAt } from "../sheet/table.ts";
import { mixTables } from "./mixed-tables.ts";
import type { ProgramTables } from "./program-tables.ts";

/** A column as plain data; a list without entries is a column in which every cell is missing. */
export type SavedColumn =
  | { readonly kind: "number"; readonly values: readonly (number | null)[] }
  /** Code 0 is missing, code i is `words[i − 1]`. */
  | { readonly kind: "code"; readonly words: readonly string[]; readonly codes: readonly number[] }
  | { readonly kind: "text"; readonly values: readonly string[] };

export interface SavedTable {
  readonly rows: number;
  readonly columns: Readonly<Record<string, SavedColumn>>;
}

/** The values a plan is worked out from, as plain data that a file can keep. */
export interface SavedTables {
  /** By id, so that the order of the city's file leaves no trace. */
  readonly laterals: SavedTable;
  readonly inspections: SavedTable;
  readonly first_inspection: readonly number[];
  /** Absent when the program has no observation file; offsets are by survey. */
  readonly observations?: { readonly table: SavedTable; readonly first: readonly number[] } | undefined;
  readonly decisions: readonly SavedDecision[];
}

export interface SavedDecision {
  readonly lateral: string;
  readonly column: string;
  readonly value: number | string;
  readonly reason: string;
}

/** Addresses and remarks decide nothing and are nobody's business in a file that is kept for years. */
const leftOut: ReadonlySet<string> = new Set(["location", "note"]);

/** Everything the plan reads from the tables; columns that the program does not know are not kept. */
export function saveTables(tables: ProgramTables): SavedTables {
  const { laterals, inspections, firstInspection, decisions, observations } = inOrderOfIds(tables);
  return {
    laterals: saveTable(laterals, lateralColumns),
    inspections: saveTable(inspections, inspectionColumns),
    first_inspection: [...firstInspection],
    ...(observations === undefined
      ? {}
      : {
          observations: {
            table: saveTable(observations.table, [...observationColumns, { key: "mode" }]),
            first: [...observations.first],
          },
        }),
    decisions: [...decisions]
      .flatMap(([lateral, byColumn]) =>
        [...byColumn].map(([column, { value, reason }]) => ({ lateral, column, value, reason })),
      )
      .sort((a, b) => order(a.lateral, b.lateral) || order(a.column, b.column)),
  };
}

/** @throws RangeError when a column has another number of rows than its table: the reader has checked that */
export function restoreTables(saved: SavedTables): ProgramTables {
  const decisions = new Map<string, Map<string, { value: number | string; reason: string }>>();
  for (const { lateral, column, value, reason } of saved.decisions) {
    const byColumn = decisions.get(lateral) ?? new Map();
    byColumn.set(column, { value, reason });
    decisions.set(lateral, byColumn);
  }
  return {
    laterals: restoreTable(saved.laterals, lateralColumns),
    inspections: restoreTable(saved.inspections, inspectionColumns),
    firstInspection: Uint32Array.from(saved.first_inspection),
    decisions,
    ...(saved.observations === undefined
      ? {}
      : {
          observations: {
            table: restoreTable(saved.observations.table, observationColumns),
            first: Uint32Array.from(saved.observations.first),
          },
        }),
  };
}

function inOrderOfIds(tables: ProgramTables): ProgramTables {
  const { laterals } = tables;
  const ids = Array.from({ length: laterals.rows }, (_, row) => textAt(laterals, "lateral", row));
  const rows = Uint32Array.from(ids, (_, row) => row).sort((a, b) => order(ids[a]!, ids[b]!));
  return mixTables(tables, tables, tables, rows);
}

const order = (a: string, b: string): number => (a < b ? -1 : a === b ? 0 : 1);

function saveTable(table: Table, known: readonly { readonly key: string }[]): SavedTable {
  const columns = known.flatMap(({ key }): [string, SavedColumn][] => {
    const data = table.columns.get(key);
    return data === undefined ? [] : [[key, saveColumn(table, key, data)]];
  });
  return { rows: table.rows, columns: Object.fromEntries(columns) };
}

function saveColumn(table: Table, key: string, data: ColumnData): SavedColumn {
  const cells = <T>(at: (row: number) => T, missing: T): T[] => {
    if (leftOut.has(key)) return [];
    const list = Array.from({ length: table.rows }, (_, row) => at(row));
    return list.every((cell) => cell === missing) ? [] : list;
  };
  switch (data.kind) {
    case "number":
      return {
        kind: "number",
        values: cells(
          (row) => {
            const value = numberAt(table, key, row);
            return Number.isNaN(value) ? null : value;
          },
          null as number | null,
        ),
      };
    case "code": {
      // Words in the order of their first use, so that the same cells are saved as the same text.
      const words: string[] = [];
      const codeOf = new Map<string, number>();
      const codes = cells((row) => {
        const word = textAt(table, key, row);
        if (word === "") return 0;
        const code = codeOf.get(word) ?? words.push(word);
        codeOf.set(word, code);
        return code;
      }, 0);
      return { kind: "code", words, codes };
    }
    case "text":
      return { kind: "text", values: cells((row) => textAt(table, key, row), "") };
    default:
      return data satisfies never;
  }
}

/** Columns that came into the dictionary after the table was saved are missing in every cell. */
const restoreTable = ({ rows, columns }: SavedTable, known: readonly Column[]): Table => ({
  rows,
  columns: new Map([
    ...known.map((column) => [column.key, absentColumn(column, rows)] as const),
    ...Object.entries(columns).map(([key, column]) => [key, restoreColumn(key, column, rows)] as const),
  ]),
});

function restoreColumn(key: string, column: SavedColumn, rows: number): ColumnData {
  const fill = <T>(given: readonly T[], missing: T, push: (cell: T) => void) => {
    if (given.length !== 0 && given.length !== rows)
      throw new RangeError(`restoreTables: ${key} has ${given.length} cells in a table of ${rows} rows`);
    for (let row = 0; row < rows; row++) push(given.length === 0 ? missing : given[row]!);
  };
  switch (column.kind) {
    case "number": {
      const growing = new GrowingNumbers();
      fill(column.values, null, (value) => growing.push(value ?? Number.NaN));
      return growing.finish();
    }
    case "code": {
      const growing = new GrowingWords(column.words);
      fill(column.codes, 0, (code) => growing.push(code === 0 ? "" : column.words[code - 1]!));
      return growing.finish();
    }
    case "text": {
      const growing = new GrowingText();
      fill(column.values, "", (text) => growing.push(text));
      return growing.finish();
    }
    default:
      return column satisfies never;
  }
}
