import type { Style } from "exceljs";
import { showDate } from "../quantity/show-date.ts";
import type { ProgramHead } from "../reference/basis.ts";
import { styles } from "./cell-styles.ts";
import { headingRow, LINES_BEFORE_NOTES, type SheetColumn, type SheetModel } from "./sheet-model.ts";
import { linesIn, rowHeight } from "./text-height.ts";

/** A row above the data: the same text in every file, whoever writes it. */
export interface HeadRow {
  readonly at: number;
  /** Points; null for the usual. */
  readonly height: number | null;
  /** Of the first cell, counting from 1. */
  readonly column: number;
  readonly texts: readonly string[];
  readonly style: Partial<Style>;
  /** Columns the one text is written across. */
  readonly across: number;
}

/** Title, program line, notes, headings. */
export function headRows({ name, asOf, print }: ProgramHead, sheet: SheetModel): readonly HeadRow[] {
  // Over several pages the first columns are printed on each: title and notes stand beside them, or they would be cut there.
  const column = sheet.pagesWide > 1 ? sheet.frozenColumns + 1 : 1;
  const across = columnsAcross(sheet.columns, column - 1);
  const lines = sheet.columns.map(({ heading, width }) => linesIn(heading, width, "bold"));
  return [
    { at: 1, height: 22, column, texts: [sheet.title], style: styles.title, across: 1 },
    {
      at: 2,
      height: null,
      column,
      texts: [`${name}, as of ${showDate(asOf, print.dates)}`],
      style: styles.subtitle,
      across: 1,
    },
    ...sheet.notes.map((note, i) => ({
      at: LINES_BEFORE_NOTES + 1 + i,
      height: rowHeight(linesIn(note, across.width, "plain")),
      column,
      texts: [note],
      style: styles.note,
      across: Math.max(1, across.columns),
    })),
    {
      at: headingRow(sheet.notes),
      height: rowHeight(Math.max(...lines)) + 4,
      column: 1,
      texts: sheet.columns.map(({ heading }) => heading),
      style: styles.heading,
      across: 1,
    },
  ];
}

/** Notes end by about this many characters from the left edge, so that they are read without scrolling and on one page. */
const NOTE_END = 110;
/** A note beside wide columns is no narrower. */
const NOTE_LEAST = 60;

/** How many columns a note is written across that stands beside the first so many, and their width together. */
function columnsAcross(
  columns: readonly SheetColumn[],
  beside: number,
): { readonly columns: number; readonly width: number } {
  const before = columns.slice(0, beside).reduce((sum, column) => sum + column.width, 0);
  const room = Math.max(NOTE_LEAST, NOTE_END - before);
  let width = 0;
  for (const [i, column] of columns.slice(beside).entries()) {
    width += column.width;
    if (width >= room) return { columns: i + 1, width };
  }
  return { columns: columns.length - beside, width };
}
