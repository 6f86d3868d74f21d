import type { Writable } from "node:stream";
import { finished } from "node:stream/promises";
import ExcelJS from "exceljs";
import { setProperties } from "./book-properties.ts";
import { addNames } from "./cell-names.ts";
import { fillSheet } from "./fill-sheet.ts";
import type { Book, SheetPicture } from "./sheet-model.ts";
import { sheetOptions } from "./sheet-options.ts";

/** Writes a book that is first built whole in memory. */
export async function writeDocument(book: Book, stream: Writable): Promise<void> {
  const workbook = new ExcelJS.Workbook();
  setProperties(workbook, book);
  for (const sheet of book.sheets) {
    const worksheet = workbook.addWorksheet(sheet.name, sheetOptions(book, sheet));
    await fillSheet(worksheet, book.head, sheet);
    addPictures(workbook, worksheet, sheet.pictures ?? []);
  }
  addNames(workbook.definedNames, book);
  await Promise.all([finished(stream), workbook.xlsx.write(stream)]);
}

/** Pixels of an empty row of the usual height, 15 points. */
const ROW_PIXELS = 20;

/** Puts the pictures under the last row, one under another. */
function addPictures(
  workbook: ExcelJS.Workbook,
  worksheet: ExcelJS.Worksheet,
  pictures: readonly SheetPicture[],
): void {
  let row = worksheet.rowCount + 1;
  for (const { png, width, height } of pictures) {
    // The types ask for a Buffer of their own; bytes are what the writer takes.
    const buffer = Buffer.from(png) as unknown as ExcelJS.Buffer;
    const id = workbook.addImage({ buffer, extension: "png" });
    worksheet.addImage(id, { tl: { col: 0, row }, ext: { width, height } });
    row += Math.ceil(height / ROW_PIXELS) + 1;
  }
}
