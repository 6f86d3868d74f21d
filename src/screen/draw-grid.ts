import { type Align, fitTo } from "./cell-text.ts";
import { type Area, columnsInView, HEADING_LINES, type PlacedColumn } from "./layout.ts";
import { type Line, lineOf, type Span, span } from "./line.ts";
import type { Session } from "./session.ts";
import type { SheetColumn, SheetView } from "./sheet-view.ts";

/** A cell without a value: distinct from 0 and from a blank that might have been overlooked. */
const MISSING = "·";
/** The line under the cursor can be told without reverse video, and so can the cell, by its brackets. */
const CURSOR_ROW = ">";
/** At the ends of the headings: there are more columns on that side. */
const MORE_LEFT = "‹";
const MORE_RIGHT = "›";

/** Headings, units and rows in exactly `area.lines` lines. */
export function drawGrid(session: Session, sheet: SheetView, area: Area): readonly Line[] {
  const placed = columnsInView(session, sheet, area.columns);
  const lines: Line[] = [...headings(placed, session, sheet)];
  for (let at = session.top; lines.length < area.lines; at++) {
    lines.push(at < session.order.length ? row(at, placed, session, sheet) : []);
  }
  return lines;
}

function headings(placed: readonly PlacedColumn[], session: Session, sheet: SheetView): readonly Line[] {
  const line = (textOf: (column: SheetColumn, placed: PlacedColumn) => string, before = " ", after = " ") => {
    const texts = placed.map((one) => {
      const column = sheet.columns[one.column]!;
      return ` ${fitTo(textOf(column, one), one.width, column.align)}`;
    });
    return lineOf(`${before}${texts.join(" ")}${after}`, "bold");
  };
  const [sorted] = session.sort;
  const mark = (at: number) => (sorted?.column !== at ? "" : sorted.descending ? "▼" : "▲");
  const units = line(({ unit }, { column }) => [unit === "" ? "" : `(${unit})`, mark(column)].join(""));
  const before = session.left > 1 ? MORE_LEFT : " ";
  const after = placed.at(-1)!.place < session.columns.length - 1 ? MORE_RIGHT : " ";
  return [line(({ heading }) => heading, before, after), units].slice(0, HEADING_LINES);
}

function row(at: number, placed: readonly PlacedColumn[], session: Session, sheet: SheetView): Line {
  const here = at === session.row;
  const spans: Span[] = [span(here ? CURSOR_ROW : " ")];
  for (const { place, column, width } of placed) {
    const { align } = sheet.columns[column]!;
    const text = sheet.cell(session.order[at]!, column);
    const shown = text === "" ? missing(width, align) : fitTo(text, width, align);
    if (!here || place !== session.column) spans.push(span(` ${shown} `));
    else spans.push(span(`[${shown}]`, session.focus === "sheet" ? "reverse" : "plain"));
  }
  return spans;
}

/** In the middle of the column, so that it is not read as part of a number. */
function missing(width: number, align: Align): string {
  const before = align === "left" ? Math.floor((width - 1) / 2) : Math.ceil((width - 1) / 2);
  return `${" ".repeat(before)}${MISSING}${" ".repeat(width - 1 - before)}`;
}
