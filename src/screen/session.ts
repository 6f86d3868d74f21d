import type { PaneName, SheetView, SortKey } from "./sheet-view.ts";

/** Where somebody is in the sheet and what is open: plain data, all that a key can change. */
export interface Session {
  /** Rows of the sheet in the order shown; with a filter, only those that meet it. */
  readonly order: Uint32Array;
  readonly sort: readonly SortKey[];
  /** Place in `SheetView.filters`, null for all rows. */
  readonly filter: number | null;
  /** Columns shown, by place in the sheet; the first is the id and stays in view. */
  readonly columns: readonly number[];
  /** The cell under the cursor: places in `order` and in `columns`. */
  readonly row: number;
  readonly column: number;
  /** First row in the window; first column after the id. */
  readonly top: number;
  readonly left: number;
  readonly pane: PaneName | null;
  /** First line of the pane in view. */
  readonly paneTop: number;
  /** What the arrow keys move. */
  readonly focus: "sheet" | "pane";
}

/** What the outside world is asked to do. */
export type Effect = { readonly kind: "leave" } | { readonly kind: "redraw" };

export type Action =
  | { readonly kind: "move rows"; readonly by: -1 | 1 }
  | { readonly kind: "move columns"; readonly by: -1 | 1 }
  | { readonly kind: "move pages"; readonly by: -1 | 1 }
  | { readonly kind: "go to row"; readonly end: "first" | "last" }
  | { readonly kind: "go to column"; readonly end: "first" | "last" }
  | { readonly kind: "show pane"; readonly pane: PaneName }
  | { readonly kind: "close pane" }
  | { readonly kind: "change focus" }
  | { readonly kind: "sort by column" }
  | { readonly kind: "turn order round" }
  | { readonly kind: "order as at first" }
  /** All rows, then the rows of each filter in turn. */
  | { readonly kind: "next filter" }
  /** The window has another size. */
  | { readonly kind: "fit window" }
  | { readonly kind: "redraw" }
  | { readonly kind: "leave" };

export function startSession(sheet: SheetView): Session {
  return {
    order: sheet.sorted([sheet.firstSort]),
    sort: [sheet.firstSort],
    filter: null,
    columns: sheet.shownAtFirst,
    row: 0,
    column: 0,
    top: 0,
    left: 1,
    pane: null,
    paneTop: 0,
    focus: "sheet",
  };
}

/** The row of the sheet under the cursor, null in a sheet without rows. */
export const rowUnderCursor = ({ order, row }: Session): number | null => order[row] ?? null;

/** The column of the sheet under the cursor. @throws RangeError when the cursor is outside the columns shown. */
export function columnUnderCursor({ columns, column }: Session): number {
  const found = columns[column];
  if (found === undefined) throw new RangeError(`columnUnderCursor: no column at place ${column}`);
  return found;
}
