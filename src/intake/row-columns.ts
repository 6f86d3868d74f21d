import type { CityFile } from "../columns/city-file.ts";
import type { Column } from "../columns/column.ts";
import { AbsentColumns } from "../sheet/empty-table.ts";
import { GrowingNumbers } from "../sheet/grow.ts";
import type { ColumnData, Table } from "../sheet/table.ts";
import type { ProblemList } from "./cell-problem.ts";
import { type ColumnReader, VerbatimReader } from "./cell-readers.ts";
import type { Layout } from "./city-rows.ts";
import { columnReader, type ReadingRules } from "./column-readers.ts";
import type { RowCells } from "./row-cells.ts";

/** The row's number in the city's file, as a spreadsheet counts. */
export const FILE_ROW = "file_row";

/** Where a heading that is none of ours is kept: `other:<heading>`. */
export const otherKey = (heading: string): string => `other:${heading}`;

interface Placed {
  readonly place: number;
  readonly reader: ColumnReader;
}

/** Before the heading row is found, and for ever when it is not: no column stands anywhere. */
export const NO_LAYOUT: Layout = { headings: [], placeOf: new Map() };

/**
 * The columns of a table while a file is read: every column of the dictionary (all missing when the file lacks it),
 * every other column of the file as verbatim text, and the file's row numbers.
 */
export class RowColumns {
  readonly #columns: readonly Column[];
  readonly #special: Readonly<Record<string, (heading: string) => ColumnReader>>;
  readonly #readers = new Map<string, ColumnReader>();
  /** The same readers, for the loop over a row's cells. */
  readonly #placed: Placed[] = [];
  readonly #fileRows: GrowingNumbers;
  #rows = 0;

  /**
   * @param special readers of words, by key, made by the caller for columns that the measure alone does not say how
   *   to read
   */
  constructor(
    columns: readonly Column[],
    file: CityFile<string>,
    layout: Layout,
    rules: ReadingRules,
    problems: ProblemList,
    special: Readonly<Record<string, (heading: string) => ColumnReader>> = {},
  ) {
    const { headings, placeOf } = layout;
    this.#columns = columns;
    this.#fileRows = new GrowingNumbers(rules.expected);
    this.#special = special;
    for (const column of columns) {
      const place = placeOf.get(column.key);
      const heading = place === undefined ? undefined : headings[place];
      if (place === undefined || heading === undefined) continue;
      const reader =
        special[column.key]?.(heading) ??
        columnReader(column, heading, file.columns[column.key]?.unit, rules, problems);
      if (reader !== null) this.#add(column.key, place, reader);
    }
    const mapped = new Set(placeOf.values());
    for (const [place, heading] of headings.entries())
      if (!mapped.has(place)) this.#add(otherKey(heading), place, new VerbatimReader(rules.expected));
  }

  #add(key: string, place: number, reader: ColumnReader): void {
    this.#readers.set(key, reader);
    this.#placed.push({ place, reader });
  }

  /** Takes a row and returns its number in the table. A cell the row does not have is missing. */
  take({ text, bounds, count }: RowCells, row: number): number {
    for (const { place, reader } of this.#placed)
      if (place < count) reader.take(text, bounds[place]! + 1, bounds[place + 1]!, row);
      else reader.take("", 0, 0, row);
    this.#fileRows.push(row);
    return this.#rows++;
  }

  finish(): Table {
    const rows = this.#rows;
    const columns = new Map<string, ColumnData>();
    const absent = new AbsentColumns(rows);
    for (const column of this.#columns) {
      const words = column.key in this.#special ? absent.words([]) : null;
      columns.set(column.key, this.#readers.get(column.key)?.finish() ?? words ?? absent.column(column));
    }
    for (const [key, reader] of this.#readers) if (!columns.has(key)) columns.set(key, reader.finish());
    columns.set(FILE_ROW, this.#fileRows.finish());
    return { rows, columns };
  }
}
