import type { Align } from "./cell-text.ts";
import type { Line } from "./line.ts";

/** A window, in terminal cells. */
export interface Size {
  readonly columns: number;
  readonly rows: number;
}

/** A column as the sheet shows it. */
export interface SheetColumn {
  readonly key: string;
  readonly heading: string;
  /** Unit of the numbers, "" for none; shown under the heading. */
  readonly unit: string;
  readonly help: string;
  /** Numbers stand to the right. */
  readonly align: Align;
  /** Cells of the terminal that show every value, or as much of long text as is sensible. */
  readonly width: number;
}

/** Rows are put in order by these, first key first; the id breaks ties. */
export interface SortKey {
  /** Place in `SheetView.columns`. */
  readonly column: number;
  readonly descending: boolean;
}

/** A condition with a name, and whether it is met in a row. */
export interface NamedFilter {
  readonly name: string;
  /** Rows that meet it. */
  readonly count: number;
  keeps(row: number): boolean;
}

export type PaneName = "why" | "districts" | "problems" | "help";

export interface PaneText {
  readonly title: string;
  readonly lines: readonly Line[];
}

/**
 * What the sheet shows, and nothing of where it comes from: the session and the drawing see a program only through
 * this, so both are tested with small objects.
 */
export interface SheetView {
  /** Title line: the program's name first, then what else is worth knowing, the more important before. */
  readonly title: readonly string[];
  readonly rows: number;
  readonly columns: readonly SheetColumn[];
  /** Columns shown at first, by place; the first of them is the id, which stays in view. */
  readonly shownAtFirst: readonly number[];
  readonly firstSort: SortKey;
  /** Named filters of the program, in its order. */
  readonly filters: readonly NamedFilter[];
  /** Totals of all rows, the more important before. */
  readonly totals: readonly string[];
  /** Text of a cell as people see it, "" when it has no value. */
  cell(row: number, column: number): string;
  /** Why a person decided this cell; null when nobody did. Decided values carry an asterisk in the grid. */
  decided(row: number, column: number): string | null;
  /** Rows in the order of these keys. */
  sorted(keys: readonly SortKey[]): Uint32Array;
  /** Text of a pane, wrapped to `width`. `row` is the lateral under the cursor, null when there is none. */
  pane(name: PaneName, row: number | null, width: number): PaneText;
}
