import type { Writable } from "node:stream";
import { finished } from "node:stream/promises";
import ExcelJS from "exceljs";
import { setProperties } from "./book-properties.ts";
import { addNames } from "./cell-names.ts";
import { fillSheet } from "./fill-sheet.ts";
import type { Book } from "./sheet-model.ts";
import { sheetOptions } from "./sheet-options.ts";

/** Writes a book that is first built whole in memory. */
export async function writeDocument(book: Book, stream: Writable): Promise<void> {
  const workbook = new ExcelJS.Workbook();
  setProperties(workbook, book);
  for (const sheet of book.sheets) {
    await fillSheet(workbook.addWorksheet(sheet.name, sheetOptions(book, sheet)), book.head, sheet, noPause);
  }
  addNames(workbook.definedNames, book);
  await Promise.all([finished(stream), workbook.xlsx.write(stream)]);
}

const noPause = async (): Promise<void> => {};
