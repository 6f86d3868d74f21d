import { showCount } from "../quantity/show-quantity.ts";
import { wrap } from "./cell-text.ts";
import type { Area } from "./layout.ts";
import { lineOf } from "./line.ts";
import { rowUnderCursor, type Session } from "./session.ts";
import type { PaneText, SheetView } from "./sheet-view.ts";

/** The text of the pane that is open. @throws RangeError when none is */
export function paneText(session: Session, sheet: SheetView, area: Area): PaneText {
  const { pane, refused, zoomed } = session;
  if (pane === null) throw new RangeError("paneText: no pane is open");
  if (pane !== "refused")
    return sheet.pane(pane, rowUnderCursor(session), {
      columns: area.columns,
      lines: area.lines - 1,
      zoomed,
    });
  return {
    title: `Nothing was changed: ${showCount(refused.length)} ${refused.length === 1 ? "problem" : "problems"}`,
    lines: refused.flatMap((problem) => wrap(problem, area.columns).map((text) => lineOf(text))),
  };
}
