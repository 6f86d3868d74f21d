import type ExcelJS from "exceljs";
import { isoDate } from "../quantity/calendar.ts";
import type { ProgramHead } from "../reference/basis.ts";
import { cellStyle, styles } from "./cell-styles.ts";
import { ruleFor } from "./input-rules.ts";
import { breakBeforeFoot, heightOf } from "./page-breaks.ts";
import { columnLetter } from "./references.ts";
import { cellText, looksLikeFormula } from "./safe-text.ts";
import {
  type Cell,
  headingRow,
  LINES_BEFORE_NOTES,
  type Row,
  type SheetColumn,
  type SheetModel,
} from "./sheet-model.ts";
import { linesIn, rowHeight } from "./text-height.ts";

const MOST_ROWS = 1_048_576;
/** Points; a row cannot be taller. */
const TALLEST_ROW = 409;
/** Rows between two pauses. */
const PAUSE_EVERY = 256;

/**
 * Puts a sheet into a worksheet, row after row and each committed: a streaming writer lets go of it then.
 *
 * @param pause awaited every few hundred rows
 */
export async function fillSheet(
  worksheet: ExcelJS.Worksheet,
  head: ProgramHead,
  sheet: SheetModel,
  pause: () => Promise<void>,
): Promise<void> {
  const { columns } = sheet;
  for (const [i, column] of columns.entries()) worksheet.getColumn(i + 1).width = column.width;

  addHead(worksheet, head, sheet);
  const heading = headingRow(sheet.notes);
  let at = heading;
  const pageBreak = breakBeforeFoot(sheet, head.units);
  for (const row of sheet.rows) {
    addRow(worksheet, ++at, row, sheet, false, at - heading === pageBreak);
    if (at % PAUSE_EVERY === 0) await pause();
  }
  const last = at;
  for (const row of sheet.foot ?? []) addRow(worksheet, ++at, row, sheet, true, false);

  if (sheet.filtered && last > heading) {
    worksheet.autoFilter = `A${heading}:${columnLetter(columns.length - 1)}${last}`;
  }
  // Without a password: it is there against slips, not against people.
  if (sheet.locked)
    await worksheet.protect("", { autoFilter: true, sort: true, formatColumns: true, formatRows: true });
}

/** Title, program line, notes, headings. */
function addHead(worksheet: ExcelJS.Worksheet, { name, asOf }: ProgramHead, sheet: SheetModel): void {
  put(worksheet.getCell(1, 1), sheet.title, styles.title);
  worksheet.getRow(1).height = 22;
  // Over several pages the first columns are printed on each: notes stand beside them, or they would be cut there.
  const start = sheet.pagesWide > 1 ? sheet.frozenColumns + 1 : 1;
  put(worksheet.getCell(2, start), `${name}, as of ${isoDate(asOf)}`, styles.subtitle);
  const across = columnsAcross(sheet.columns.slice(start - 1));
  for (const [i, note] of sheet.notes.entries()) {
    const row = LINES_BEFORE_NOTES + 1 + i;
    put(worksheet.getCell(row, start), note, styles.note);
    if (across.columns > 1) worksheet.mergeCells(row, start, row, start + across.columns - 1);
    worksheet.getRow(row).height = rowHeight(linesIn(note, across.width, "plain"));
  }
  const row = worksheet.getRow(headingRow(sheet.notes));
  for (const [i, { heading }] of sheet.columns.entries()) put(row.getCell(i + 1), heading, styles.heading);
  const lines = sheet.columns.map(({ heading, width }) => linesIn(heading, width, "bold"));
  row.height = rowHeight(Math.max(...lines)) + 4;
  row.commit();
}

/** Notes are merged over columns of this many characters together, so that they are read without scrolling. */
const NOTE_WIDTH = 110;

/** How many of the first columns a note is written across, and their width together. */
function columnsAcross(columns: readonly SheetColumn[]): {
  readonly columns: number;
  readonly width: number;
} {
  let width = 0;
  for (const [i, column] of columns.entries()) {
    width += column.width;
    if (width >= NOTE_WIDTH) return { columns: i + 1, width };
  }
  return { columns: columns.length, width };
}

function addRow(
  worksheet: ExcelJS.Worksheet,
  at: number,
  cells: Row,
  sheet: SheetModel,
  foot: boolean,
  endsPage: boolean,
): void {
  if (at > MOST_ROWS) throw new RangeError(`${worksheet.name}: a sheet holds ${MOST_ROWS} rows and no more`);
  const row = worksheet.getRow(at);
  for (const [i, column] of sheet.columns.entries()) {
    const cell = cells[i] ?? null;
    const into = row.getCell(i + 1);
    put(into, written(cell, worksheet.name, at), styleOf(cell, column, foot));
    const rule = ruleFor(cell, `${columnLetter(i)}${at}`);
    if (rule !== null) into.dataValidation = rule;
  }
  row.height = Math.min(TALLEST_ROW, heightOf(cells, sheet));
  if (endsPage) row.addPageBreak();
  row.commit();
}

type Written = string | number | { readonly formula: string; readonly result: number | string } | null;

function put(cell: ExcelJS.Cell, value: Written, style: Partial<ExcelJS.Style>): void {
  cell.style = style;
  cell.value = typeof value === "string" ? cellText(value) : value;
}

function written(cell: Cell, sheet: string, row: number): Written {
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

function styleOf(cell: Cell, column: SheetColumn, foot: boolean): Partial<ExcelJS.Style> {
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
