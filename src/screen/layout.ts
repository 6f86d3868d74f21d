import type { Session } from "./session.ts";
import type { PaneName, SheetView, Size } from "./sheet-view.ts";

/** Less than this cannot hold a heading, a row and the lines around them. */
export const SMALLEST: Size = { columns: 30, rows: 8 };

export const isTooSmall = ({ columns, rows }: Size): boolean =>
  columns < SMALLEST.columns || rows < SMALLEST.rows;

/** Lines that are always there: title above; totals, the cell in full and the keys below. */
const FRAME_LINES = 4;
/** A column's heading and its unit. */
export const HEADING_LINES = 2;
/** Below the rows, what the columns come to. */
export const TOTAL_LINES = 1;
/** From this width the reasons stand beside the grid, from this height below it. */
const BESIDE_FROM_COLUMNS = 120;
const BELOW_FROM_ROWS = 20;
/** A line of prose longer than this is hard to read. */
const WIDEST_PANE = 90;

/** Panes about the lateral under the cursor: the grid stays in view where there is room for both. */
const withGrid: ReadonlySet<PaneName> = new Set(["why", "map", "season", "risk", "first steps"]);

/** Between the grid and the reasons beside it. */
export const SEPARATOR = "│ ";

export interface Area {
  readonly columns: number;
  readonly lines: number;
}

/** Where the pane is: over the whole grid when there is no room for both. Its title is one of its lines. */
export interface Layout {
  /** Null when a pane covers it. */
  readonly grid: Area | null;
  readonly pane: (Area & { readonly place: "beside" | "below" | "over" }) | null;
}

export function layOut(pane: PaneName | null, size: Size): Layout {
  const { columns } = size;
  const lines = size.rows - FRAME_LINES;
  if (pane === null) return { grid: { columns, lines }, pane: null };
  if (!withGrid.has(pane)) return { grid: null, pane: { place: "over", columns, lines } };
  if (columns >= BESIDE_FROM_COLUMNS) {
    const wide = Math.min(Math.floor(columns / 2), WIDEST_PANE);
    return {
      grid: { columns: columns - wide - SEPARATOR.length, lines },
      pane: { place: "beside", columns: wide, lines },
    };
  }
  if (size.rows >= BELOW_FROM_ROWS) {
    const high = Math.ceil(lines * 0.55);
    return { grid: { columns, lines: lines - high }, pane: { place: "below", columns, lines: high } };
  }
  return { grid: null, pane: { place: "over", columns, lines } };
}

/** Rows of data the window shows: what a page is. The same behind a pane that covers the grid. */
export const rowsInView = ({ grid }: Layout, size: Size): number =>
  (grid?.lines ?? size.rows - FRAME_LINES) - HEADING_LINES - TOTAL_LINES;

export const paneLinesInView = ({ pane }: Layout): number => (pane === null ? 0 : pane.lines - 1);

/** A column wider than this shows nothing else. */
export const MOST_WIDENED = 120;

/** Cells of a column: its own, and what somebody added or took away. */
export const widthOfColumn = (
  column: number,
  { widened }: Pick<Session, "widened">,
  sheet: Pick<SheetView, "columns">,
): number => Math.max(1, sheet.columns[column]!.width + (widened.get(column) ?? 0));

export interface PlacedColumn {
  /** Place in `Session.columns`. */
  readonly place: number;
  /** Place in `SheetView.columns`. */
  readonly column: number;
  /** Cells for the value, without the two around it. */
  readonly width: number;
}

/** Cells before a row: its marker. */
export const MARKER_WIDTH = 1;
/** Around each value: blanks, or the brackets of the cursor. */
export const AROUND = 2;

/**
 * The columns in view: the id first, then as many whole columns from `left` on as fit. The first of them is cut when
 * it alone is too wide, so there is always one.
 */
export function columnsInView(
  { columns, left, widened }: Pick<Session, "columns" | "left" | "widened">,
  sheet: Pick<SheetView, "columns">,
  width: number,
): readonly PlacedColumn[] {
  const placed: PlacedColumn[] = [];
  let free = width - MARKER_WIDTH;
  const place = (at: number, most: number) => {
    const column = columns[at]!;
    const wide = Math.min(widthOfColumn(column, { widened }, sheet), most);
    placed.push({ place: at, column, width: wide });
    free -= wide + AROUND;
  };
  // A long id leaves half of the window to the others.
  place(0, Math.max(1, Math.floor(free / 2) - AROUND));
  for (let at = Math.max(1, left); at < columns.length; at++) {
    const first = placed.length === 1;
    if (!first && widthOfColumn(columns[at]!, { widened }, sheet) + AROUND > free) break;
    place(at, free - AROUND);
  }
  return placed;
}
