import type { Writable } from "node:stream";
import { finished } from "node:stream/promises";
import ExcelJS from "exceljs";
import { appProperties } from "./book-parts.ts";
import { setProperties } from "./book-properties.ts";
import { addNames } from "./cell-names.ts";
import { fillSheet } from "./fill-sheet.ts";
import { drawingParts, pictureRows } from "./picture-parts.ts";
import type { Book, SheetModel } from "./sheet-model.ts";
import { sheetOptions } from "./sheet-options.ts";
import { DEFAULT_FONT } from "./style-sheet.ts";
import { readZip, unpack, writeZip, type ZipMember } from "./zip-file.ts";

/** Writes a book that is first built whole in memory. */
export async function writeDocument(book: Book, stream: Writable): Promise<void> {
  const workbook = new ExcelJS.Workbook();
  setProperties(workbook, book);
  for (const sheet of book.sheets) {
    const worksheet = workbook.addWorksheet(sheet.name, sheetOptions(book, sheet));
    await fillSheet(worksheet, book.head, sheet);
    addPictures(workbook, worksheet, sheet);
  }
  addNames(workbook.definedNames, book);
  const written = readZip(Buffer.from(await workbook.xlsx.writeBuffer()));
  // The library has no words for a picture, names another program as the one that wrote the file, and has a font of its own.
  const ours = new Map([
    ...drawingParts(book),
    ["docProps/app.xml", Buffer.from(appProperties(book))],
    [STYLES, Buffer.from(withDefaultFont(textOf(written, STYLES)))],
  ]);
  stream.end(writeZip(written, ours));
  await finished(stream);
}

const STYLES = "xl/styles.xml";

function textOf(members: readonly ZipMember[], name: string): string {
  const member = members.find((each) => each.name === name);
  if (member === undefined) throw new RangeError(`writeDocument: the library wrote no ${name}`);
  return unpack(member).toString("utf8");
}

/** The first font is the default. */
const withDefaultFont = (styles: string): string =>
  styles.replace(/(<fonts[^>]*>)<font>.*?<\/font>/s, (_, open: string) => open + DEFAULT_FONT);

function addPictures(workbook: ExcelJS.Workbook, worksheet: ExcelJS.Worksheet, sheet: SheetModel): void {
  const rows = pictureRows(sheet);
  for (const [i, { png, width, height }] of (sheet.pictures ?? []).entries()) {
    // The types ask for a Buffer of their own; bytes are what the writer takes.
    const buffer = Buffer.from(png) as unknown as ExcelJS.Buffer;
    const id = workbook.addImage({ buffer, extension: "png" });
    worksheet.addImage(id, { tl: { col: 0, row: rows[i]! }, ext: { width, height } });
  }
}
