import type { Align } from "./cell-text.ts";
import type { Line } from "./line.ts";
import type { RecipeItem } from "./pane-data.ts";

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
  /** Cells of the terminal that show every value and its mark, or as much of long text as is sensible. */
  readonly width: number;
  /** Who fills it: the city's files, the plan, or a formula of the program's own. */
  readonly filledBy: "city" | "plan" | "formula";
  /** A person may decide its values. Such a column keeps its last cell free for the mark of a decision. */
  readonly decidable: boolean;
  /** The words it may hold, for a column of words. */
  readonly words: readonly string[];
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

export type PaneName =
  | "why"
  | "districts"
  | "problems"
  | "risk"
  | "map"
  | "season"
  | "bid"
  | "moved"
  | "recipe"
  | "first steps"
  | "help"
  | "refused";

/** What a typed value would be taken as, or why it is not taken. */
export type ValueCheck =
  | { readonly ok: true; readonly shows: string }
  | { readonly ok: false; readonly words: string };

/** What a formula gives, or what is wrong with it and at which character. */
export type FormulaCheck =
  | { readonly ok: true; readonly gives: string }
  | { readonly ok: false; readonly at: number; readonly words: string };

/** The one expression language, as somebody types in it. */
export interface FormulaHelp {
  /** A filter must give yes or no; a column may give anything but text. */
  check(text: string, use: "filter" | "column"): FormulaCheck;
  /** What could stand in place of the unfinished word at the end. */
  complete(before: string): readonly { readonly name: string; readonly shows: string }[];
  /** Rows from `from` up to `to` for which the filter is a known yes, rising. The text was checked before. */
  keeps(text: string, from: number, to: number): Uint32Array;
  /** Why a new column cannot be called so; null when it can. */
  nameProblem(name: string): string | null;
}

/** The rows of the sheet by what a column says. */
export interface Groups {
  /** Place in `names`, by row. */
  readonly codes: Uint32Array;
  /** "" is no value. */
  readonly names: readonly string[];
  /** Of a column of numbers, a value of each. */
  readonly values?: readonly number[];
}

/** Where Enter leads from a line of a pane. The line begins with two blanks, in which the cursor stands. */
export interface PaneLink {
  readonly line: number;
  readonly to: /** `notice` is said once there. */
    | { readonly kind: "lateral"; readonly row: number; readonly notice?: string }
    | { readonly kind: "recipe item"; readonly item: RecipeItem }
    /** `notYet` is said instead while what the change would move is worked out. */
    | { readonly kind: "accept trial"; readonly notYet?: string }
    | { readonly kind: "drop trial" };
}

/** An order of the rows, and the columns by which they are told apart. */
export interface ToPrepare {
  readonly sort: readonly SortKey[];
  readonly groups: readonly number[];
}

/** What a pane may fill, and how it is looked at. */
export interface PaneRoom {
  readonly columns: number;
  readonly lines: number;
  /** The map: only the district under the cursor. */
  readonly zoomed: boolean;
}

export interface PaneText {
  readonly title: string;
  readonly lines: readonly Line[];
  /** By rising line; absent in a pane that only shows. */
  readonly links?: readonly PaneLink[];
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
  /** Whether a cell of this column shows a text, given in lower case, whatever its own case: by row. Null where none can. */
  cellsWith(column: number, wanted: string): ((row: number) => boolean) | null;
  /** Why a person decided this cell; null when nobody did. Decided values carry an asterisk in the grid. */
  decided(row: number, column: number): string | null;
  /**
   * Sum, mean or count of a column over these rows (null: over all), as fits the column; "" where none does. "…" while that of a
   * big sheet is worked out; the sheet is drawn again when it is known.
   */
  total(rows: Uint32Array | null, column: number): string;
  /** The rows by what this column says. */
  groups(column: number): Groups;
  /** The row of this id; null when no lateral has it. */
  rowOf(id: string): number | null;
  /** Why nothing can be decided here; null when it can. */
  readonly closedBecause: string | null;
  /** How often the whole was planned anew, −1 before it was planned at all: an order made before keeps its rows where they were. */
  readonly planned: number;
  /** What is not up to date after a decision; null when everything is. */
  readonly stale: string | null;
  check(column: number, text: string): ValueCheck;
  readonly formula: FormulaHelp;
  /**
   * A few milliseconds of what `sorted` and `groups` take; the part that is done, and 1 once both will answer at once. Whoever asks again
   * with the same goes on with it.
   */
  prepare(asked: ToPrepare): number;
  /** Rows in the order of these keys. */
  sorted(keys: readonly SortKey[]): Uint32Array;
  /** Text of a pane, wrapped to its room. `row` is the lateral under the cursor, null when there is none. */
  pane(name: PaneName, row: number | null, room: PaneRoom): PaneText;
  /** Whether somebody sees this program for the first time: nothing was decided or saved in it. */
  readonly isNew: boolean;
}
