import { Marks } from "./marks.ts";
import type { RecipeItem } from "./pane-data.ts";
import type { Prompt } from "./prompt.ts";
import type { PaneLink, PaneName, SheetView, SortKey } from "./sheet-view.ts";

/** Which rows are shown, when not all are. */
export type Only =
  /** Place in `SheetView.filters`. */
  | { readonly kind: "named"; readonly at: number }
  | { readonly kind: "formula"; readonly text: string }
  | { readonly kind: "value"; readonly column: number; readonly text: string };

/** The rows of one value, in the order of the sheet. */
export interface Group {
  /** "" is no value. */
  readonly name: string;
  readonly rows: Uint32Array;
}

export interface Grouping {
  readonly column: number;
  readonly groups: readonly Group[];
  /** Names of the groups whose rows are hidden. */
  readonly folded: ReadonlySet<string>;
}

/** What is not done yet, in steps small enough that no key waits for it. */
export type Pending =
  | Arranging
  /** Looks for the text from a line on; `left` lines are still to be looked at. */
  | { readonly kind: "find"; readonly line: number; readonly by: -1 | 1; readonly left: number };

/** Another order, filter or grouping of a big sheet: prepared, then filtered, then shown. */
export interface Arranging {
  readonly kind: "arrange";
  /** 0 to 1, for people. */
  readonly done: number;
  /** Rows filtered so far: those that are kept, in pieces. */
  readonly filtered: number;
  readonly kept: readonly Uint32Array[];
  /** The column whose groups are asked for, all folded at first; null leaves the grouping as it is. */
  readonly groupBy: number | null;
  /** What stopping goes back to. */
  readonly before: Pick<Session, "sort" | "only">;
}

/** Where somebody is in the sheet and what is open: plain data, all that a key can change. */
export interface Session {
  /** Rows shown, in their order; with a filter, only those that meet it. */
  readonly rows: Uint32Array;
  /** `SheetView.planned` when the order was made. */
  readonly orderedAt: number;
  /** Lines of the grid: a row of the sheet, or {@link HEADING} and the place of a group. */
  readonly order: Uint32Array;
  readonly sort: readonly SortKey[];
  readonly only: Only | null;
  /** The rows the filter keeps, rising; null for all. */
  readonly kept: Uint32Array | null;
  readonly grouping: Grouping | null;
  /** Columns shown, by place in the sheet; the first is the id and stays in view. */
  readonly columns: readonly number[];
  /** Cells added to a column's own width, or taken from it, by place in the sheet. */
  readonly widened: ReadonlyMap<number, number>;
  /** Rows marked for a decision on all of them. */
  readonly marked: Marks;
  /** The cell under the cursor: places in `order` and in `columns`. */
  readonly row: number;
  readonly column: number;
  /** First row in the window; first column after the id. */
  readonly top: number;
  readonly left: number;
  readonly pane: PaneName | null;
  /** First line of the pane in view. */
  readonly paneTop: number;
  /** The line of the pane that Enter follows: place in its links. */
  readonly paneAt: number;
  /** The map shows the cursor's district only. */
  readonly zoomed: boolean;
  /** What the arrow keys move. */
  readonly focus: "sheet" | "pane";
  /** What is being typed; null when keys are commands. */
  readonly prompt: Prompt | null;
  /** What came of the last key, until the next. */
  readonly notice: string | null;
  /** Whether the last key asked for a change where one may only look. */
  readonly turnedAway: boolean;
  readonly pending: Pending | null;
  /** The last reason given: offered again. */
  readonly lastReason: string;
  /** Why the last change was refused, a line a problem. */
  readonly refused: readonly string[];
}

/** One decision somebody asks for. */
export interface Asked {
  readonly row: number;
  readonly column: number;
  readonly value: string;
}

/** What the outside world is asked to do. */
export type Effect =
  | { readonly kind: "leave" }
  | { readonly kind: "redraw" }
  /** Draw, then go on with what is pending. */
  | { readonly kind: "go on" }
  | OutsideEffect;

/** What is done outside and answered by an action. No key is read before the answer. */
export type OutsideEffect =
  | { readonly kind: "decide"; readonly decisions: readonly Asked[]; readonly reason: string }
  | { readonly kind: "undo" }
  | { readonly kind: "redo" }
  | { readonly kind: "add column"; readonly name: string; readonly text: string }
  /** Works out beside the sheet what a change of the recipe would move; nothing is written. */
  | { readonly kind: "try recipe"; readonly item: RecipeItem; readonly text: string }
  | { readonly kind: "accept recipe"; readonly reason: string }
  | { readonly kind: "drop recipe" }
  /** Somebody who may only look has tried to decide: whether another still writes is looked at again. */
  | { readonly kind: "look again" };

/** What came of an outside effect. */
export interface Answer {
  readonly kind: "answer";
  readonly notice: string;
  /** Why it was refused, a line a problem; empty when it was done. */
  readonly refused: readonly string[];
  /** The row it was about, to show it. */
  readonly row: number | null;
  /** A column that is new in the sheet. */
  readonly newColumn: number | null;
}

export type Action =
  | { readonly kind: "move rows"; readonly by: -1 | 1 }
  | { readonly kind: "move columns"; readonly by: -1 | 1 }
  | { readonly kind: "move pages"; readonly by: -1 | 1 }
  | { readonly kind: "go to row"; readonly end: "first" | "last" }
  | { readonly kind: "go to column"; readonly end: "first" | "last" }
  | { readonly kind: "show pane"; readonly pane: PaneName }
  | { readonly kind: "close pane" }
  | { readonly kind: "change focus" }
  | { readonly kind: "zoom" }
  | { readonly kind: "sort by column" }
  | { readonly kind: "then by column" }
  | { readonly kind: "turn order round" }
  | { readonly kind: "order as at first" }
  /** All rows, then the rows of each filter in turn. */
  | { readonly kind: "next filter" }
  | { readonly kind: "only this value" }
  | { readonly kind: "all rows" }
  | { readonly kind: "group by column" }
  | { readonly kind: "fold"; readonly which: "all" | "none" }
  | { readonly kind: "hide column" }
  | { readonly kind: "shift column"; readonly by: -1 | 1 }
  | { readonly kind: "widen column"; readonly by: -1 | 1 }
  | { readonly kind: "mark row" }
  | { readonly kind: "mark and move"; readonly by: -1 | 1 }
  | { readonly kind: "mark all" }
  | { readonly kind: "unmark all" }
  | { readonly kind: "enter" }
  | { readonly kind: "as given" }
  | { readonly kind: "undo" }
  | { readonly kind: "redo" }
  | {
      readonly kind: "ask";
      readonly what: "find" | "go to id" | "only" | "copies" | "column name" | "actions" | "columns";
    }
  /** A character typed where keys are commands: it begins a value. */
  | { readonly kind: "begin value"; readonly text: string }
  | { readonly kind: "paste"; readonly text: string }
  | PromptAction
  | Answer
  | { readonly kind: "go on" }
  /** The plan is up to date again. */
  /** Another is shown now; `on` is the pane's line that was drawn under the cursor. */
  | { readonly kind: "settled"; readonly on?: PaneLink | null }
  /** The window has another size. */
  | { readonly kind: "fit window" }
  | { readonly kind: "redraw" }
  | { readonly kind: "leave" };

/** What keys do while something is being typed. */
export type PromptAction =
  | { readonly kind: "type"; readonly text: string }
  | { readonly kind: "rub out"; readonly which: "before" | "after" }
  | { readonly kind: "move in text"; readonly to: "left" | "right" | "start" | "end" }
  | { readonly kind: "choose"; readonly by: -1 | 1 }
  | { readonly kind: "complete" }
  | { readonly kind: "accept" }
  | { readonly kind: "give up" };

/** In `Session.order`: not a row of the sheet, but the heading of the group at this place. */
export const HEADING = 0x80000000;

export function startSession(sheet: SheetView): Session {
  const rows = sheet.sorted([sheet.firstSort]);
  return {
    rows,
    orderedAt: sheet.planned,
    order: rows,
    sort: [sheet.firstSort],
    only: null,
    kept: null,
    grouping: null,
    columns: sheet.shownAtFirst,
    widened: new Map(),
    marked: Marks.none,
    row: 0,
    column: 0,
    top: 0,
    left: 1,
    pane: sheet.isNew ? "first steps" : null,
    paneTop: 0,
    paneAt: 0,
    zoomed: false,
    focus: "sheet",
    prompt: null,
    notice: sheet.closedBecause,
    turnedAway: false,
    pending: null,
    lastReason: "",
    refused: [],
  };
}

/** Of whoever asks for a change and may only look, the session that says so; null where changes may be made. */
export const turnedAway = (session: Session, { closedBecause }: SheetView): Session | null =>
  closedBecause === null ? null : { ...session, notice: closedBecause, turnedAway: true };

/** The group whose heading is on this line; null for a row of the sheet. */
export function groupOnLine({ order, grouping }: Session, line: number): Group | null {
  const at = order[line];
  return at === undefined || at < HEADING || grouping === null
    ? null
    : (grouping.groups[at - HEADING] ?? null);
}

/** The row of the sheet on this line; null for a group's heading, or past the end. */
export function rowOnLine({ order }: Session, line: number): number | null {
  const row = order[line];
  return row === undefined || row >= HEADING ? null : row;
}

/** The row of the sheet under the cursor, null on a group's heading and in a sheet without rows. */
export const rowUnderCursor = (session: Session): number | null => rowOnLine(session, session.row);

/** The column of the sheet under the cursor. @throws RangeError when the cursor is outside the columns shown. */
export function columnUnderCursor({ columns, column }: Session): number {
  const found = columns[column];
  if (found === undefined) throw new RangeError(`columnUnderCursor: no column at place ${column}`);
  return found;
}

/** The rows a decision here is about: those marked, or else the one under the cursor. */
export function rowsToDecide(session: Session): readonly number[] {
  if (session.marked.size > 0) return session.marked.rows();
  const row = rowUnderCursor(session);
  return row === null ? [] : [row];
}
