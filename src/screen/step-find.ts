import { rowOnLine, type Session } from "./session.ts";
import type { SheetView } from "./sheet-view.ts";

/** Cells looked at between two looks at the keyboard: a few milliseconds where each is a number that has to be written out. */
const CELLS_AT_ONCE = 20_000;

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
  const tests = testsOf(session, prompt.text.toLowerCase(), sheet);
  const steps = Math.min(pending.left, Math.ceil(CELLS_AT_ONCE / tests.length));
  for (let i = 0; i < steps; i++) {
    const line = around(pending.line + i * pending.by, order.length);
    const row = rowOnLine(session, line);
    const found = row === null ? undefined : tests.find(({ shows }) => shows(row));
    if (found === undefined) continue;
    const there = { row: line, column: found.place, paneTop: 0 };
    return { ...session, ...there, pending: null, prompt: { ...prompt, refusal: null } };
  }
  const left = pending.left - steps;
  if (left === 0)
    return { ...session, pending: null, prompt: { ...prompt, refusal: "Nothing here has that text." } };
  const line = around(pending.line + steps * pending.by, order.length);
  return { ...session, pending: { ...pending, line, left } };
}

const around = (line: number, lines: number): number => ((line % lines) + lines) % lines;

/** Of the columns shown, from the first, those that can have the text at all. */
const testsOf = ({ columns }: Session, wanted: string, sheet: SheetView) =>
  columns.flatMap((column, place) => {
    const shows = sheet.cellsWith(column, wanted);
    return shows === null ? [] : [{ place, shows }];
  });
