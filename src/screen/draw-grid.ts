import { showCount } from "../quantity/show-quantity.ts";
import { type Align, cut, fitTo, widthOf } from "./cell-text.ts";
import { AROUND, type Area, columnsInView, HEADING_LINES, type PlacedColumn, TOTAL_LINES } from "./layout.ts";
import { type Line, type Look, lineOf, type Span, span } from "./line.ts";
import { type Group, groupOnLine, type Session } from "./session.ts";
import type { SheetColumn, SheetView } from "./sheet-view.ts";

/** A cell without a value: distinct from 0 and from a blank that might have been overlooked. */
const MISSING = "·";
/** The line under the cursor can be told without reverse video, and so can the cell, by its brackets. */
const CURSOR_ROW = ">";
const MARKED_ROW = "+";
const CURSOR_ON_MARKED = "»";
/** Behind a value that a person decided. */
export const DECIDED = "*";
/** Before the unit of a column that the plan works out. */
export const WORKED_OUT = "=";
/** At the ends of the headings: there are more columns on that side. */
const MORE_LEFT = "‹";
const MORE_RIGHT = "›";
const FOLDED = "›";
const UNFOLDED = "▼";

/** Headings, units, rows and what the columns come to, in exactly `area.lines` lines. */
export function drawGrid(session: Session, sheet: SheetView, area: Area): readonly Line[] {
  const placed = columnsInView(session, sheet, area.columns);
  const lines: Line[] = [...headings(placed, session, sheet)];
  for (let at = session.top; lines.length < area.lines - TOTAL_LINES; at++) {
    const group = groupOnLine(session, at);
    if (group !== null) lines.push(groupLine(at, group, placed, session, sheet));
    else lines.push(at < session.order.length ? row(at, placed, session, sheet) : []);
  }
  return [...lines, totals(placed, session, sheet)];
}

function headings(placed: readonly PlacedColumn[], session: Session, sheet: SheetView): readonly Line[] {
  const line = (textOf: (column: SheetColumn, placed: PlacedColumn) => string, before = " ", after = " ") => {
    const texts = placed.map((one) => {
      const column = sheet.columns[one.column]!;
      // The mark of a decision has a cell of its own, so that numbers stand under their heading.
      const kept = column.decidable && column.align === "right" && one.width > 1 ? 1 : 0;
      return ` ${fitTo(textOf(column, one), one.width - kept, column.align)}${" ".repeat(kept)}`;
    });
    return lineOf(`${before}${texts.join(" ")}${after}`, "bold");
  };
  const units = line(({ unit, filledBy }, { column }) =>
    [filledBy === "city" ? "" : WORKED_OUT, unit === "" ? "" : `(${unit})`, sortMark(column, session)].join(
      "",
    ),
  );
  const before = session.left > 1 ? MORE_LEFT : " ";
  const after = placed.at(-1)!.place < session.columns.length - 1 ? MORE_RIGHT : " ";
  return [line(({ heading }) => heading, before, after), units].slice(0, HEADING_LINES);
}

/** With several keys each has its place: ▲1, ▼2. */
function sortMark(column: number, { sort }: Session): string {
  const place = sort.findIndex((key) => key.column === column);
  const key = sort[place];
  if (key === undefined) return "";
  return `${key.descending ? "▼" : "▲"}${sort.length > 1 ? place + 1 : ""}`;
}

function row(at: number, placed: readonly PlacedColumn[], session: Session, sheet: SheetView): Line {
  const here = at === session.row;
  const of = session.order[at]!;
  const isMarked = session.marked.has(of);
  const marker = here ? (isMarked ? CURSOR_ON_MARKED : CURSOR_ROW) : isMarked ? MARKED_ROW : " ";
  // Cells that look alike are one piece of text: a screen is a few dozen pieces, not a thousand.
  let plain = marker;
  const spans: Span[] = [];
  for (const { place, column, width } of placed) {
    const shown = cellIn(of, column, width, sheet);
    if (!here || place !== session.column) {
      plain += ` ${shown} `;
      continue;
    }
    spans.push(span(plain), span(`[${shown}]`, session.focus === "sheet" ? "reverse" : "plain"));
    plain = "";
  }
  if (plain !== "") spans.push(span(plain));
  return spans;
}

function cellIn(row: number, column: number, width: number, sheet: SheetView): string {
  const { align, decidable } = sheet.columns[column]!;
  const text = sheet.cell(row, column);
  const mark = decidable && sheet.decided(row, column) !== null ? DECIDED : "";
  if (text === "" && mark === "") return missing(width, align);
  if (!decidable || width < 2) return fitTo(text, width, align);
  if (align === "right") return fitTo(text, width - 1, align) + (mark || " ");
  return mark === "" ? fitTo(text, width, align) : fitTo(cut(text, width - 1) + mark, width, align);
}

/** In the middle of the column, so that it is not read as part of a number. */
function missing(width: number, align: Align): string {
  const before = align === "left" ? Math.floor((width - 1) / 2) : Math.ceil((width - 1) / 2);
  return `${" ".repeat(before)}${MISSING}${" ".repeat(width - 1 - before)}`;
}

function groupLine(
  at: number,
  { name, rows }: Group,
  placed: readonly PlacedColumn[],
  session: Session,
  sheet: SheetView,
): Line {
  const here = at === session.row;
  const sign = session.grouping?.folded.has(name) ? FOLDED : UNFOLDED;
  const label = `${sign} ${name === "" ? "none" : name} (${showCount(rows.length)})`;
  const marker = here ? CURSOR_ROW : " ";
  return summed(marker, label, rows, placed, here ? session.column : null, "bold", sheet);
}

function totals(placed: readonly PlacedColumn[], session: Session, sheet: SheetView): Line {
  const { kept } = session;
  const label =
    kept === null ? `all ${showCount(sheet.rows)}` : `${showCount(kept.length)} of ${showCount(sheet.rows)}`;
  return summed(" ", label, kept, placed, null, "bold", sheet);
}

/** A label over the id and the columns after it that come to nothing, then what each column comes to. */
function summed(
  marker: string,
  label: string,
  rows: Uint32Array | null,
  placed: readonly PlacedColumn[],
  cursor: number | null,
  look: Look,
  sheet: SheetView,
): Line {
  const texts = placed.map(({ column }) => sheet.total(rows, column));
  let covered = 1;
  const widthOver = (count: number) =>
    placed.slice(0, count).reduce((sum, { width }) => sum + width + AROUND, -AROUND);
  while (covered < placed.length && texts[covered] === "" && widthOver(covered) < widthOf(label)) covered++;
  const spans: Span[] = [span(marker, look)];
  const cell = (text: string, isHere: boolean) =>
    spans.push(isHere ? span(`[${text}]`, "reverse") : span(` ${text} `, look));
  const isCovered = cursor !== null && placed.slice(0, covered).some(({ place }) => place === cursor);
  cell(fitTo(label, widthOver(covered), "left"), isCovered);
  for (const [i, { place, column, width }] of placed.entries()) {
    if (i < covered) continue;
    const { align, decidable } = sheet.columns[column]!;
    const kept = decidable && align === "right" && width > 1 ? 1 : 0;
    cell(fitTo(texts[i]!, width - kept, align) + " ".repeat(kept), place === cursor);
  }
  return spans;
}
