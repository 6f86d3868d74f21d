import { rowOnLine, type Session } from "./session.ts";
import type { SheetView } from "./sheet-view.ts";

/** Lines looked at between two looks at the keyboard: a few milliseconds. */
const LINES_AT_ONCE = 500;

/** Begins to look for what is typed, from the cursor on (`by` 1) or back; the cursor's own line counts when `here`. */
export function lookFor(session: Session, by: -1 | 1, here: boolean, sheet: SheetView): Session {
  const { prompt, order } = session;
  if (prompt === null || prompt.text === "" || order.length === 0) return { ...session, pending: null };
  if (session.pending?.kind === "arrange")
    return { ...session, prompt: { ...prompt, refusal: "The rows are being arranged: look when they are." } };
  const line = here ? session.row : around(session.row + by, order.length);
  return lookedOn({ ...session, pending: { kind: "find", line, by, left: order.length } }, sheet);
}

/** Goes on looking, round the end of the sheet, until it is found or every line was looked at. */
export function lookedOn(session: Session, sheet: SheetView): Session {
  const { pending, prompt, order } = session;
  if (pending?.kind !== "find" || prompt === null) return { ...session, pending: null };
  const wanted = prompt.text.toLowerCase();
  const steps = Math.min(pending.left, LINES_AT_ONCE);
  for (let i = 0; i < steps; i++) {
    const line = around(pending.line + i * pending.by, order.length);
    const column = placeIn(session, line, wanted, sheet);
    if (column === null) continue;
    return { ...session, row: line, column, paneTop: 0, pending: null, prompt: { ...prompt, refusal: null } };
  }
  const left = pending.left - steps;
  if (left === 0)
    return { ...session, pending: null, prompt: { ...prompt, refusal: "Nothing here has that text." } };
  const line = around(pending.line + steps * pending.by, order.length);
  return { ...session, pending: { ...pending, line, left } };
}

const around = (line: number, lines: number): number => ((line % lines) + lines) % lines;

/** The first of the columns shown whose cell has the text. */
function placeIn(session: Session, line: number, wanted: string, sheet: SheetView): number | null {
  const row = rowOnLine(session, line);
  if (row === null) return null;
  const place = session.columns.findIndex((column) => sheet.cell(row, column).toLowerCase().includes(wanted));
  return place < 0 ? null : place;
}
