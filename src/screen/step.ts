import { columnsInView, isTooSmall, layOut, paneLinesInView, rowsInView } from "./layout.ts";
import { type Action, columnUnderCursor, type Effect, rowUnderCursor, type Session } from "./session.ts";
import type { SheetView, Size } from "./sheet-view.ts";

export interface Stepped {
  readonly session: Session;
  readonly effects: readonly Effect[];
}

const NO_EFFECTS: readonly Effect[] = [];

/** What an action does, without a terminal or a disk: the next session, and what the outside world is asked to do. */
export function step(session: Session, action: Action, size: Size, sheet: SheetView): Stepped {
  if (action.kind === "leave" || action.kind === "redraw") return { session, effects: [action] };
  return { session: inView(changed(session, action, size, sheet), size, sheet), effects: NO_EFFECTS };
}

type Change = Exclude<Action, { readonly kind: "leave" | "redraw" }>;

function changed(session: Session, action: Change, size: Size, sheet: SheetView): Session {
  switch (action.kind) {
    case "move rows":
      return moved(session, action.by);
    case "move pages":
      return moved(session, action.by * pageOf(session, size));
    case "go to row":
      return action.end === "first" ? moved(session, -Infinity) : moved(session, Infinity);
    case "move columns":
      return toColumn(session, session.column + action.by);
    case "go to column":
      return toColumn(session, action.end === "first" ? 0 : session.columns.length - 1);
    case "show pane": {
      if (session.pane === action.pane) return closed(session);
      const over = layOut(action.pane, size).pane?.place === "over";
      return { ...session, pane: action.pane, paneTop: 0, focus: over ? "pane" : "sheet" };
    }
    case "close pane":
      return closed(session);
    case "change focus":
      return session.pane === null
        ? session
        : { ...session, focus: session.focus === "sheet" ? "pane" : "sheet" };
    case "sort by column": {
      if (isCovered(session, size)) return session;
      const column = columnUnderCursor(session);
      const [first] = session.sort;
      return first?.column === column ? turned(session, sheet) : sortedBy(session, column, false, sheet);
    }
    case "turn order round":
      return isCovered(session, size) ? session : turned(session, sheet);
    case "order as at first":
      return isCovered(session, size)
        ? session
        : sortedBy(session, sheet.firstSort.column, sheet.firstSort.descending, sheet);
    case "next filter":
      return isCovered(session, size) ? session : filtered(session, sheet);
    case "fit window":
      return session;
    default:
      return action satisfies never;
  }
}

/** Nobody should change an order that cannot be seen. */
const isCovered = (session: Session, size: Size): boolean => layOut(session.pane, size).grid === null;

const closed = (session: Session): Session => ({ ...session, pane: null, paneTop: 0, focus: "sheet" });

/** Moves the cursor, or the pane's text when that has the focus. The ends are found afterwards, in one place. */
function moved(session: Session, by: number): Session {
  if (session.focus === "pane") return { ...session, paneTop: session.paneTop + by };
  const row = clamp(session.row + by, session.order.length - 1);
  // The reasons of another lateral are read from their beginning.
  return { ...session, row, paneTop: row === session.row ? session.paneTop : 0 };
}

const toColumn = (session: Session, column: number): Session =>
  session.focus === "pane" ? session : { ...session, column: clamp(column, session.columns.length - 1) };

function pageOf(session: Session, size: Size): number {
  const layout = layOut(session.pane, size);
  // One line of the last page stays in view, so nobody loses the place.
  const lines = session.focus === "pane" ? paneLinesInView(layout) : rowsInView(layout, size);
  return Math.max(1, lines - 1);
}

function turned(session: Session, sheet: SheetView): Session {
  const [first = sheet.firstSort] = session.sort;
  return sortedBy(session, first.column, !first.descending, sheet);
}

/** A new order is shown from its beginning: people sort to see the extremes. */
function sortedBy(session: Session, column: number, descending: boolean, sheet: SheetView): Session {
  const sort = [{ column, descending }];
  return shown({ ...session, sort }, sheet);
}

/** All rows, then the rows of each filter in turn, then all again. */
function filtered(session: Session, sheet: SheetView): Session {
  if (sheet.filters.length === 0) return session;
  const next = session.filter === null ? 0 : session.filter + 1;
  return shown({ ...session, filter: next < sheet.filters.length ? next : null }, sheet);
}

/** The rows that the order and the filter ask for, from the first on. */
function shown(session: Session, sheet: SheetView): Session {
  const sorted = sheet.sorted(session.sort);
  const filter = session.filter === null ? undefined : sheet.filters[session.filter];
  const order = filter === undefined ? sorted : sorted.filter((row) => filter.keeps(row));
  return { ...session, order, row: 0, top: 0, paneTop: 0 };
}

const clamp = (value: number, most: number): number => Math.max(0, Math.min(value, most));

/** Scrolls so that the cursor's cell is in the window and no space is wasted past the end. */
function inView(session: Session, size: Size, sheet: SheetView): Session {
  if (isTooSmall(size)) return session;
  const layout = layOut(session.pane, size);
  const focus = layout.pane?.place === "over" ? "pane" : session.focus;
  const page = rowsInView(layout, size);
  const lowestTop = Math.max(0, session.order.length - page);
  const top = Math.min(clamp(session.top, session.row), lowestTop);
  return {
    ...session,
    focus,
    top: Math.max(top, session.row - page + 1),
    left: leftInView(session, layout.grid?.columns ?? size.columns, sheet),
    paneTop: paneTopInView(session, size, sheet),
  };
}

function leftInView(session: Session, width: number, sheet: SheetView): number {
  const { column, columns } = session;
  let left = clamp(session.left, Math.max(1, columns.length - 1)) || 1;
  if (column > 0 && column < left) left = column;
  const lastFrom = (from: number) => columnsInView({ columns, left: from }, sheet, width).at(-1)!.place;
  while (left < column && lastFrom(left) < column) left++;
  // After the window has grown, columns on the left come back into what would be empty space.
  while (left > 1 && lastFrom(left) === columns.length - 1 && lastFrom(left - 1) === columns.length - 1)
    left--;
  return left;
}

function paneTopInView(session: Session, size: Size, sheet: SheetView): number {
  const layout = layOut(session.pane, size);
  if (session.pane === null || layout.pane === null || session.paneTop <= 0) return 0;
  const { lines } = sheet.pane(session.pane, rowUnderCursor(session), layout.pane.columns);
  return clamp(session.paneTop, lines.length - paneLinesInView(layout));
}
