import { showCount } from "../quantity/show-quantity.ts";
import { onRow } from "./arrange.ts";
import { promptFor } from "./prompt.ts";
import {
  type Answer,
  type Asked,
  columnUnderCursor,
  rowOnLine,
  rowsToDecide,
  type Session,
  turnedAway,
} from "./session.ts";
import type { SheetView } from "./sheet-view.ts";

/** Written for a value to take a decision back. The program's log knows the same words. */
export const AS_GIVEN = "as given";

/** Asks for a value of the cell under the cursor, or of all marked laterals in its column. */
export function beginValue(session: Session, text: string, sheet: SheetView): Session {
  const refused = refusedHere(session, sheet);
  if (refused !== null) return refused;
  const column = columnUnderCursor(session);
  return { ...session, prompt: promptFor({ kind: "value", column, rows: rowsToDecide(session) }, text) };
}

/** Takes the decision on the cell under the cursor back, or those on all marked laterals. */
export function asGiven(session: Session, sheet: SheetView): Session {
  const refused = refusedHere(session, sheet);
  if (refused !== null) return refused;
  const column = columnUnderCursor(session);
  const rows = rowsToDecide(session).filter((row) => sheet.decided(row, column) !== null);
  if (rows.length === 0) return { ...session, notice: "Nothing was decided here; it is as given." };
  return askReason(
    session,
    rows.map((row) => ({ row, column, value: AS_GIVEN })),
    sheet,
  );
}

/** The session that says why no value under the cursor is decided; null where one may be. */
function refusedHere(session: Session, sheet: SheetView): Session | null {
  const because = whyNot(session, sheet);
  return turnedAway(session, sheet) ?? (because === null ? null : { ...session, notice: because });
}

function whyNot(session: Session, sheet: SheetView): string | null {
  if (rowsToDecide(session).length === 0) return "There is no lateral on this line.";
  const { heading, decidable, filledBy } = sheet.columns[columnUnderCursor(session)]!;
  if (decidable) return null;
  switch (filledBy) {
    case "city":
      return `${heading} is the city's and is not decided here.`;
    case "plan":
      return `${heading} is worked out by the plan; press w to see from what.`;
    case "formula":
      return `${heading} is worked out by its formula; press w to see it.`;
    default:
      return filledBy satisfies never;
  }
}

/** Everything was checked; what is still missing is why. The last reason is offered again. */
export function askReason(session: Session, decisions: readonly Asked[], sheet: SheetView): Session {
  const purpose = { kind: "reason", decisions, about: describeAsked(decisions, sheet) } as const;
  return { ...session, prompt: promptFor(purpose, "", session.lastReason) };
}

/** `Host dia. of L-0012: 6 in`, `Host dia. of 12 laterals: 6 in`, `14 values`. */
export function describeAsked(decisions: readonly Asked[], sheet: SheetView): string {
  const [first] = decisions;
  if (first === undefined) throw new RangeError("describeAsked: nothing is decided");
  const alike = decisions.every(({ column, value }) => column === first.column && value === first.value);
  if (!alike) return `${showCount(decisions.length)} values`;
  const heading = sheet.columns[first.column]!.heading;
  const of = decisions.length === 1 ? idOf(first.row, sheet) : `${showCount(decisions.length)} laterals`;
  return `${heading} of ${of}: ${first.value}`;
}

const idOf = (row: number, sheet: SheetView): string => sheet.cell(row, sheet.shownAtFirst[0]!);

/** The value of the cell, for the laterals on so many lines below. */
export function extended(
  session: Session,
  { column, row, line }: { readonly column: number; readonly row: number; readonly line: number },
  count: number,
  sheet: SheetView,
): Session {
  const { unit } = sheet.columns[column]!;
  const text = sheet.cell(row, column);
  if (text === "") return { ...session, prompt: null, notice: "There is no value here to extend." };
  const value = unit === "" ? text : `${text} ${unit}`;
  const rows: number[] = [];
  for (let at = line + 1; at < session.order.length && rows.length < count; at++) {
    const below = rowOnLine(session, at);
    if (below !== null) rows.push(below);
  }
  if (rows.length === 0) return { ...session, prompt: null, notice: "There is no lateral below." };
  const checked = sheet.check(column, value);
  if (!checked.ok) return { ...session, prompt: null, notice: checked.words };
  return askReason(
    session,
    rows.map((each) => ({ row: each, column, value })),
    sheet,
  );
}

/**
 * A block of cells with tabs between columns and line ends between rows, as spreadsheets put it on the clipboard. It
 * begins at the cursor and is taken whole or not at all; a blank cell leaves the value as it is.
 */
export function pasted(session: Session, text: string, sheet: SheetView): Session {
  const away = turnedAway(session, sheet);
  if (away !== null) return away;
  const block = cellsOf(text);
  const decisions: Asked[] = [];
  const refused: string[] = [];
  let line = session.row - 1;
  for (const cells of block) {
    let row: number | null = null;
    // A group's heading is no lateral: the block goes on below it.
    while (row === null && ++line < session.order.length) row = rowOnLine(session, line);
    if (row === null) {
      refused.push(
        `There are ${showCount(block.length)} rows to paste and not so many laterals from here on.`,
      );
      break;
    }
    for (const [i, cell] of cells.entries()) {
      const value = cell.trim();
      if (value === "") continue;
      const problem = pasteProblem(session, row, session.column + i, value, sheet);
      if (problem !== null) refused.push(problem);
      else decisions.push({ row, column: session.columns[session.column + i]!, value });
    }
  }
  if (refused.length > 0)
    return { ...session, refused, pane: "refused", paneTop: 0, focus: "pane", notice: "Nothing was pasted." };
  return decisions.length === 0
    ? { ...session, notice: "The paste has no value." }
    : askReason(session, decisions, sheet);
}

function cellsOf(text: string): readonly (readonly string[])[] {
  const lines = text.replace(/\r\n?/g, "\n").replace(/\n$/, "").split("\n");
  return lines.map((line) => line.split("\t").map((cell) => cell.replace(/^"(.*)"$/, "$1")));
}

function pasteProblem(
  session: Session,
  row: number,
  place: number,
  value: string,
  sheet: SheetView,
): string | null {
  const column = session.columns[place];
  const id = idOf(row, sheet);
  if (column === undefined)
    return `Lateral ${id}: ${JSON.stringify(value)} falls to the right of the last column.`;
  const { heading, decidable } = sheet.columns[column]!;
  if (!decidable)
    return `Lateral ${id}, ${heading}: ${JSON.stringify(value)} has no place, the column is not decided by people.`;
  const checked = sheet.check(column, value);
  return checked.ok ? null : `Lateral ${id}, ${heading}: ${checked.words}`;
}

/** What came of an edit: the words for it, and the row it was about. */
export function answered(session: Session, answer: Answer, sheet: SheetView): Session {
  const { notice, refused, row, newColumn } = answer;
  if (refused.length > 1) return { ...session, notice, refused, pane: "refused", paneTop: 0, focus: "pane" };
  const there = row === null ? session : (onRow(session, row) ?? session);
  if (newColumn === null) return { ...there, notice };
  const at = there.column + 1;
  const columns = [...there.columns.slice(0, at), newColumn, ...there.columns.slice(at)];
  return {
    ...there,
    notice,
    columns,
    column: Math.min(at, columns.length - 1),
    left: sheet.columns.length === 0 ? 1 : there.left,
  };
}
