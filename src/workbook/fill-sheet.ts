import type ExcelJS from "exceljs";
import type { ProgramHead } from "../reference/basis.ts";
import { heightOf, styleOf, verifyRow, type Written, written } from "./cell-content.ts";
import { ruleFor } from "./input-rules.ts";
import { breakBeforeFoot } from "./page-breaks.ts";
import { columnLetter } from "./references.ts";
import { cellText } from "./safe-text.ts";
import { headRows } from "./sheet-head.ts";
import { headingRow, type Row, type SheetModel } from "./sheet-model.ts";

/** Puts a sheet into a worksheet, row after row. */
export async function fillSheet(
  worksheet: ExcelJS.Worksheet,
  head: ProgramHead,
  sheet: SheetModel,
): Promise<void> {
  const { columns } = sheet;
  for (const [i, column] of columns.entries()) worksheet.getColumn(i + 1).width = column.width;

  addHead(worksheet, head, sheet);
  const heading = headingRow(sheet.notes);
  let at = heading;
  const pageBreak = breakBeforeFoot(sheet, head.print);
  for (const row of sheet.rows) addRow(worksheet, ++at, row, sheet, false, at - heading === pageBreak);
  const last = at;
  for (const row of sheet.foot ?? []) addRow(worksheet, ++at, row, sheet, true, false);

  if (sheet.filtered && last > heading) {
    worksheet.autoFilter = `A${heading}:${columnLetter(columns.length - 1)}${last}`;
  }
  // Without a password: it is there against slips, not against people.
  if (sheet.locked)
    await worksheet.protect("", { autoFilter: true, sort: true, formatColumns: true, formatRows: true });
}

function addHead(worksheet: ExcelJS.Worksheet, head: ProgramHead, sheet: SheetModel): void {
  for (const { at, height, column, texts, style, across } of headRows(head, sheet)) {
    for (const [i, text] of texts.entries()) put(worksheet.getCell(at, column + i), text, style);
    if (across > 1) worksheet.mergeCells(at, column, at, column + across - 1);
    if (height !== null) worksheet.getRow(at).height = height;
  }
}

function addRow(
  worksheet: ExcelJS.Worksheet,
  at: number,
  cells: Row,
  sheet: SheetModel,
  foot: boolean,
  endsPage: boolean,
): void {
  verifyRow(at, worksheet.name);
  const row = worksheet.getRow(at);
  for (const [i, column] of sheet.columns.entries()) {
    const cell = cells[i] ?? null;
    const into = row.getCell(i + 1);
    put(into, written(cell, worksheet.name, at), styleOf(cell, column, foot));
    const rule = ruleFor(cell, `${columnLetter(i)}${at}`);
    if (rule !== null) into.dataValidation = rule;
  }
  row.height = heightOf(cells, sheet.columns);
  if (endsPage) row.addPageBreak();
}

function put(cell: ExcelJS.Cell, value: Written, style: Partial<ExcelJS.Style>): void {
  cell.style = style;
  cell.value = typeof value === "string" ? cellText(value) : value;
}
