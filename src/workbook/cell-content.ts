import type { Style } from "exceljs";
import { cellStyle } from "./cell-styles.ts";
import { looksLikeFormula } from "./safe-text.ts";
import type { Cell, Row, SheetColumn } from "./sheet-model.ts";
import { linesIn, rowHeight } from "./text-height.ts";

/** What the file has in a cell: text as it will stand there, a number, a formula with its result, or nothing. */
export type Written = string | number | { readonly formula: string; readonly result: number | string } | null;

/** Rows of a sheet; the file format has no more. */
const MOST_ROWS = 1_048_576;
/** Points; a row cannot be taller. */
const TALLEST_ROW = 409;

/** @throws RangeError for a row that no sheet has */
export function verifyRow(at: number, sheet: string): void {
  if (at > MOST_ROWS) throw new RangeError(`${sheet}: a sheet holds ${MOST_ROWS} rows and no more`);
}

/** Points of a row: as high as its longest text, where texts are broken into lines. */
export function heightOf(cells: Row, columns: readonly SheetColumn[]): number {
  let lines = 1;
  for (const [i, { wrap, width }] of columns.entries()) {
    const cell = cells[i] ?? null;
    if (wrap && typeof cell === "string") lines = Math.max(lines, linesIn(cell, width, "plain"));
    if (cell !== null && typeof cell === "object" && "lines" in cell)
      lines = Math.max(lines, cell.lines ?? 1);
  }
  return Math.min(TALLEST_ROW, rowHeight(lines));
}

/** What the file has of a cell of the sheet's row. */
export function written(cell: Cell, sheet: string, row: number): Written {
  if (cell === null || cell === "") return null;
  if (typeof cell === "string") return cell;
  if (typeof cell === "number") return finite(cell, sheet, row);
  switch (cell.kind) {
    case "number":
      return finite(cell.value, sheet, row);
    case "formula":
      if (typeof cell.result === "number" && !Number.isFinite(cell.result))
        throw new RangeError(`${sheet}, row ${row}: ${cell.text} has the result ${cell.result}`);
      return { formula: cell.text, result: cell.result };
    case "unit price":
    case "answer":
      return null;
    case "pick":
      return cell.value;
    case "section":
      return cell.text === "" ? null : cell.text;
    default:
      return cell satisfies never;
  }
}

/** NaN is the missing number, and missing is an empty cell. */
function finite(value: number, sheet: string, row: number): number | null {
  if (Number.isNaN(value)) return null;
  if (!Number.isFinite(value)) throw new RangeError(`${sheet}, row ${row}: ${value} is no number for a cell`);
  return value;
}

/** How a cell looks in its column; `foot` in the rows of totals. */
export function styleOf(cell: Cell, column: SheetColumn, foot: boolean): Partial<Style> {
  const kind = cell !== null && typeof cell === "object" ? cell.kind : null;
  const isText =
    typeof cell === "string" || kind === "section" || kind === "pick" || kind === "answer" || isWords(cell);
  const own = cell !== null && typeof cell === "object" && "format" in cell ? cell.format : undefined;
  return cellStyle({
    // The text format keeps such text from becoming a formula, or a number, when somebody edits the cell.
    format: isText ? textFormat(cell) : (own ?? column.format),
    wrap: column.wrap === true && (typeof cell === "string" || kind === "answer" || isWords(cell)),
    numeric: !isText,
    foot: foot || kind === "section",
    input: kind === "unit price" || kind === "answer" || kind === "pick",
    drawn: column.drawn === true,
  });
}

const isWords = (cell: Cell): boolean =>
  cell !== null && typeof cell === "object" && cell.kind === "formula" && cell.isText === true;

function textFormat(cell: Cell): "@" | undefined {
  if (typeof cell === "string") return looksLikeFormula(cell) ? "@" : undefined;
  const typed = cell !== null && typeof cell === "object" && (cell.kind === "pick" || cell.kind === "answer");
  return typed ? "@" : undefined;
}
