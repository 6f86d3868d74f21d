import type { CityFile } from "../columns/city-file.ts";
import type { Column } from "../columns/column.ts";
import { AbsentColumns } from "../sheet/empty-table.ts";
import { GrowingNumbers } from "../sheet/grow.ts";
import type { ColumnData, Table } from "../sheet/table.ts";
import type { ProblemList } from "./cell-problem.ts";
import { type ColumnReader, VerbatimReader } from "./cell-readers.ts";
import type { Layout } from "./city-rows.ts";
import { ColumnCells } from "./column-cells.ts";
import { columnReader, type ReadingRules } from "./column-readers.ts";
import type { RowBlock } from "./row-block.ts";

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
  /** The same readers, by where their columns stand. */
  readonly #placed: Placed[] = [];
  /** Cells of a row. */
  readonly #width: number;
  readonly #fileRows: GrowingNumbers;
  #rows = 0;
  /** Rows of the block being read that are taken, the first so many. */
  #chosen = new Int32Array(1024);
  #count = 0;
  readonly #cells = new ColumnCells();

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
    this.#width = headings.length;
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

  /** Chooses a row of a block for {@link take}. */
  choose(row: number): void {
    if (this.#count === this.#chosen.length) {
      const chosen = new Int32Array(2 * this.#count);
      chosen.set(this.#chosen);
      this.#chosen = chosen;
    }
    this.#chosen[this.#count++] = row;
  }

  /** Takes the rows of a block that were chosen, column by column. A cell the row does not have is missing. */
  take(block: RowBlock): void {
    if (this.#count === 0) return;
    const cells = this.#cells;
    cells.chooseRows(block, this.#chosen, this.#count, this.#width);
    for (const { place, reader } of this.#placed) {
      cells.place = place;
      reader.take(cells);
    }
    const fileRows = this.#fileRows.room(this.#count);
    for (let i = 0; i < this.#count; i++) fileRows[i] = cells.rows[i]!;
    this.#rows += this.#count;
    this.#count = 0;
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
