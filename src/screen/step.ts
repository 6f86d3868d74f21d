import { showCount } from "../quantity/show-quantity.ts";
import { arrangedOn, rearranged, refolded, stopped, ungrouped } from "./arrange.ts";
import { columnsInView, isTooSmall, layOut, MOST_WIDENED, paneLinesInView, rowsInView } from "./layout.ts";
import { Marks } from "./marks.ts";
import { paneText } from "./pane-text.ts";
import { isList, promptFor } from "./prompt.ts";
import {
  type Action,
  columnUnderCursor,
  type Effect,
  groupOnLine,
  type PromptAction,
  rowUnderCursor,
  type Session,
  turnedAway,
} from "./session.ts";
import type { SheetView, Size } from "./sheet-view.ts";
import { answered, asGiven, beginValue, pasted } from "./step-edit.ts";
import { lookedOn } from "./step-find.ts";
import { followed, keptOnLink, movedInPane } from "./step-pane.ts";
import { promptStep } from "./step-prompt.ts";

export interface Stepped {
  readonly session: Session;
  readonly effects: readonly Effect[];
}

const NO_EFFECTS: readonly Effect[] = [];

/** What an action does, without a terminal or a disk: the next session, and what the outside world is asked to do. */
export function step(session: Session, action: Action, size: Size, sheet: SheetView): Stepped {
  if (action.kind === "leave" || action.kind === "redraw") return { session, effects: [action] };
  const quiet = action.kind === "fit window" || action.kind === "go on" || action.kind === "settled";
  // The first steps give way to whatever somebody does.
  const begun = session.pane === "first steps" && !quiet ? closed(session) : session;
  const next = changed(quiet ? begun : { ...begun, notice: null, turnedAway: false }, action, size, sheet);
  const shown = inView(next.session, size, sheet);
  const effects = [...next.effects];
  // Before anything is planned nobody else is what keeps him from writing.
  if (!quiet && shown.turnedAway && sheet.planned >= 0) effects.push({ kind: "look again" });
  if (shown.pending !== null) effects.push({ kind: "go on" });
  return { session: shown, effects };
}

const plainly = (session: Session): Stepped => ({ session, effects: NO_EFFECTS });
const asking = (session: Session, effect: Effect): Stepped => ({ session, effects: [effect] });

type Change = Exclude<Action, { readonly kind: "leave" | "redraw" }>;

function changed(session: Session, action: Change, size: Size, sheet: SheetView): Stepped {
  switch (action.kind) {
    case "move rows":
      return plainly(moved(session, action.by, size, sheet));
    case "move pages":
      return plainly(moved(session, action.by * pageOf(session, size), size, sheet));
    case "go to row":
      return plainly(moved(session, action.end === "first" ? -Infinity : Infinity, size, sheet));
    case "move columns":
      return plainly(toColumn(session, session.column + action.by));
    case "go to column":
      return plainly(toColumn(session, action.end === "first" ? 0 : session.columns.length - 1));
    case "show pane": {
      if (session.pane === action.pane) return plainly(closed(session));
      const over = layOut(action.pane, size).pane?.place === "over";
      const open = { ...session, pane: action.pane, paneTop: 0, paneAt: 0 };
      return plainly({ ...open, focus: over ? "pane" : "sheet" });
    }
    case "zoom":
      return plainly(zoomed(session));
    case "enter":
      return session.focus === "pane" ? followed(session, size, sheet) : inGrid(session, action, size, sheet);
    case "close pane":
      return plainly(
        session.pending?.kind === "arrange" ? stopped(session, session.pending) : closed(session),
      );
    case "change focus":
      return plainly(
        session.pane === null ? session : { ...session, focus: session.focus === "sheet" ? "pane" : "sheet" },
      );
    case "answer":
      return plainly(answered(session, action, sheet));
    case "go on":
      return plainly(
        session.pending?.kind === "arrange"
          ? arrangedOn(session, session.pending, sheet)
          : lookedOn(session, sheet),
      );
    case "fit window":
      return plainly(session);
    case "settled": {
      const kept = action.on ? keptOnLink(session, action.on, size, sheet) : session;
      // The first plan brings the order that was asked for from the beginning.
      return plainly(
        kept.orderedAt < 0 && sheet.planned >= 0 && kept.pending === null
          ? rearranged({ ...kept, notice: null }, sheet, kept)
          : kept,
      );
    }
    case "type":
    case "rub out":
    case "move in text":
    case "choose":
    case "complete":
    case "accept":
    case "give up":
      return prompted(session, action, size, sheet);
    default:
      // Nobody should change what cannot be seen.
      return isCovered(session, size) && action.kind !== "ask"
        ? plainly(session)
        : inGrid(session, action, size, sheet);
  }
}

/** What was chosen from the list of everything that can be done is done as if its key had been pressed. */
function prompted(session: Session, action: PromptAction, size: Size, sheet: SheetView): Stepped {
  const { chosen, ...stepped } = promptStep(session, action, size, sheet);
  if (chosen === null) return stepped;
  if (chosen.kind === "leave" || chosen.kind === "redraw") return asking(stepped.session, chosen);
  return changed(stepped.session, chosen, size, sheet);
}

type InGrid = Exclude<
  Change,
  {
    readonly kind:
      | "move rows"
      | "move pages"
      | "go to row"
      | "move columns"
      | "go to column"
      | "show pane"
      | "close pane"
      | "change focus"
      | "zoom"
      | "answer"
      | "go on"
      | "fit window"
      | "settled"
      | "type"
      | "rub out"
      | "move in text"
      | "choose"
      | "complete"
      | "accept"
      | "give up";
  }
>;

function inGrid(session: Session, action: InGrid, size: Size, sheet: SheetView): Stepped {
  switch (action.kind) {
    case "sort by column": {
      const column = columnUnderCursor(session);
      const [first] = session.sort;
      return plainly(
        first?.column === column
          ? turned(session, sheet)
          : sortedBy(session, [{ column, descending: false }], sheet),
      );
    }
    case "then by column":
      return plainly(thenBy(session, columnUnderCursor(session), sheet));
    case "turn order round":
      return plainly(turned(session, sheet));
    case "order as at first":
      return plainly(sortedBy(session, [sheet.firstSort], sheet));
    case "next filter":
      return plainly(nextFilter(session, sheet));
    case "only this value": {
      const row = rowUnderCursor(session);
      if (row === null) return plainly(session);
      const column = columnUnderCursor(session);
      return plainly(
        rearranged(
          { ...session, only: { kind: "value", column, text: sheet.cell(row, column) } },
          sheet,
          session,
        ),
      );
    }
    case "all rows":
      return plainly(
        session.only === null ? session : rearranged({ ...session, only: null }, sheet, session),
      );
    case "group by column": {
      if (session.grouping !== null) return plainly(ungrouped(session));
      const column = columnUnderCursor(session);
      if (column === session.columns[0])
        return plainly({ ...session, notice: "Every id is another: move to the column to group by." });
      return plainly(rearranged(session, sheet, session, column));
    }
    case "fold":
      return plainly(foldedAll(session, action.which));
    case "hide column":
      return plainly(hidden(session));
    case "shift column":
      return plainly(shifted(session, action.by));
    case "widen column":
      return plainly(widened(session, action.by, sheet));
    case "mark row":
      return plainly(marked(session));
    case "mark and move":
      return plainly(moved(marked(session, true), action.by, size, sheet));
    case "mark all":
      return plainly({
        ...session,
        marked: Marks.of(session.rows),
        notice: `${showCount(session.rows.length)} marked.`,
      });
    case "unmark all":
      return plainly({ ...session, marked: Marks.none, notice: "Nothing is marked." });
    case "enter":
      return plainly(
        groupOnLine(session, session.row) === null ? beginValue(session, "", sheet) : foldedHere(session),
      );
    case "begin value":
      return plainly(beginValue(session, action.text, sheet));
    case "as given":
      return plainly(asGiven(session, sheet));
    case "paste":
      return plainly(pasted(session, action.text, sheet));
    case "undo":
    case "redo": {
      const away = turnedAway(session, sheet);
      return away === null ? asking(session, action) : plainly(away);
    }
    case "ask":
      return plainly(asked(session, action.what, sheet, size));
    default:
      return action satisfies never;
  }
}

function asked(
  session: Session,
  what: Extract<Action, { kind: "ask" }>["what"],
  sheet: SheetView,
  size: Size,
): Session {
  const { row, column } = session;
  const open = isCovered(session, size) ? closed(session) : session;
  switch (what) {
    case "find":
      return { ...open, prompt: promptFor({ kind: "find", row, column }) };
    case "only": {
      const text = session.only?.kind === "formula" ? session.only.text : "";
      return { ...open, prompt: promptFor({ kind: "only" }, text) };
    }
    case "copies": {
      const at = rowUnderCursor(session);
      const away = turnedAway(open, sheet);
      if (away !== null) return away;
      const place = columnUnderCursor(session);
      if (at === null || !sheet.columns[place]!.decidable)
        return {
          ...open,
          notice: "Move to a value that may be decided, then extend it to the laterals below.",
        };
      return { ...open, prompt: promptFor({ kind: "copies", column: place, row: at, line: row }, "", "1") };
    }
    case "go to id":
    case "column name":
    case "actions":
    case "columns":
      return { ...open, prompt: promptFor({ kind: what }) };
    default:
      return what satisfies never;
  }
}

const isCovered = (session: Session, size: Size): boolean => layOut(session.pane, size).grid === null;

const closed = (session: Session): Session => ({
  ...session,
  pane: null,
  paneTop: 0,
  paneAt: 0,
  focus: "sheet",
});

/** The map of the cursor's district only, or of the whole city again; opens it where it is not shown. */
const zoomed = (session: Session): Session =>
  session.pane === "map"
    ? { ...session, zoomed: !session.zoomed }
    : { ...session, notice: "k shows the map; z then shows the cursor's district only." };

/** Moves the cursor, or the pane's text when that has the focus. The ends are found afterwards, in one place. */
function moved(session: Session, by: number, size: Size, sheet: SheetView): Session {
  if (session.focus === "pane") return movedInPane(session, by, size, sheet);
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
  const [first = sheet.firstSort, ...rest] = session.sort;
  return sortedBy(session, [{ ...first, descending: !first.descending }, ...rest], sheet);
}

/** A new order is shown from its beginning: people sort to see the extremes. */
const sortedBy = (session: Session, sort: Session["sort"], sheet: SheetView): Session =>
  rearranged({ ...session, sort }, sheet, session);

/** The column comes last among those the rows are sorted by; the last one again is turned round. */
function thenBy(session: Session, column: number, sheet: SheetView): Session {
  const last = session.sort.at(-1);
  const descending = last?.column === column && !last.descending;
  const before = session.sort.filter((key) => key.column !== column);
  return sortedBy(session, [...before, { column, descending }], sheet);
}

/** All rows, then the rows of each filter in turn, then all again. */
function nextFilter(session: Session, sheet: SheetView): Session {
  const { only } = session;
  if (sheet.filters.length === 0)
    return { ...session, notice: "program.json names no filter; o takes a formula." };
  const at = only?.kind === "named" ? only.at + 1 : 0;
  return rearranged(
    { ...session, only: at < sheet.filters.length ? { kind: "named", at } : null },
    sheet,
    session,
  );
}

function foldedAll(session: Session, which: "all" | "none"): Session {
  const { grouping } = session;
  if (grouping === null) return session;
  const folded = new Set(which === "all" ? grouping.groups.map(({ name }) => name) : []);
  return refolded(session, { ...grouping, folded });
}

function foldedHere(session: Session): Session {
  const group = groupOnLine(session, session.row);
  if (group === null || session.grouping === null) return session;
  const folded = new Set(session.grouping.folded);
  if (!folded.delete(group.name)) folded.add(group.name);
  return refolded(session, { ...session.grouping, folded });
}

const stays = (session: Session): Session => ({ ...session, notice: "The id stays in view." });

function hidden(session: Session): Session {
  if (session.column === 0) return stays(session);
  const columns = session.columns.filter((_, place) => place !== session.column);
  return { ...session, columns, column: Math.min(session.column, columns.length - 1) };
}

function shifted(session: Session, by: -1 | 1): Session {
  const { column, columns } = session;
  if (column === 0) return stays(session);
  const to = column + by;
  if (to < 1 || to >= columns.length) return session;
  const moving = [...columns];
  [moving[column], moving[to]] = [columns[to]!, columns[column]!];
  return { ...session, columns: moving, column: to };
}

function widened(session: Session, by: -1 | 1, sheet: SheetView): Session {
  const column = columnUnderCursor(session);
  const own = sheet.columns[column]!.width;
  const now = own + (session.widened.get(column) ?? 0);
  const width = Math.max(3, Math.min(now + 2 * by, MOST_WIDENED));
  return { ...session, widened: new Map(session.widened).set(column, width - own) };
}

/** Marks the lateral, or takes its mark away unless it is to stay. */
function marked(session: Session, stay = false): Session {
  const row = rowUnderCursor(session);
  if (row === null) return session;
  const { marked: before } = session;
  return { ...session, marked: stay || !before.has(row) ? before.with(row) : before.without(row) };
}

const clamp = (value: number, most: number): number => Math.max(0, Math.min(value, most));

/** Scrolls so that the cursor's cell is in the window and no space is wasted past the end. */
function inView(session: Session, size: Size, sheet: SheetView): Session {
  if (isTooSmall(size)) return session;
  const layout = layOut(session.pane, size);
  const focus = layout.pane?.place === "over" && !isList(session.prompt) ? "pane" : session.focus;
  const page = rowsInView(layout, size);
  const row = clamp(session.row, session.order.length - 1);
  const lowestTop = Math.max(0, session.order.length - page);
  const top = Math.min(clamp(session.top, row), lowestTop);
  return {
    ...session,
    focus,
    row,
    top: Math.max(top, row - page + 1),
    left: leftInView(session, layout.grid?.columns ?? size.columns, sheet),
    paneTop: paneTopInView(session, size, sheet),
  };
}

function leftInView(session: Session, width: number, sheet: SheetView): number {
  const { column, columns, widened: wide } = session;
  let left = clamp(session.left, Math.max(1, columns.length - 1)) || 1;
  // The id stays in view wherever the window is: on it the others begin at the first, which follows it.
  if (column < left) left = Math.max(1, column);
  const lastFrom = (from: number) =>
    columnsInView({ columns, widened: wide, left: from }, sheet, width).at(-1)!.place;
  while (left < column && lastFrom(left) < column) left++;
  // After the window has grown, columns on the left come back into what would be empty space.
  while (left > 1 && lastFrom(left) === columns.length - 1 && lastFrom(left - 1) === columns.length - 1)
    left--;
  return left;
}

function paneTopInView(session: Session, size: Size, sheet: SheetView): number {
  const layout = layOut(session.pane, size);
  if (session.pane === null || layout.pane === null || session.paneTop <= 0) return 0;
  const { lines } = paneText(session, sheet, layout.pane);
  return clamp(session.paneTop, lines.length - paneLinesInView(layout));
}
