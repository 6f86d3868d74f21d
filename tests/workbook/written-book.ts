import { Writable } from "node:stream";
import { inflateRawSync } from "node:zlib";
import ExcelJS from "exceljs";
import type { Book, SheetModel } from "../../src/workbook/sheet-model.ts";
import { writeXlsx } from "../../src/workbook/write-xlsx.ts";

/** The bytes of a book as it would be written. */
export async function bytesOf(book: Book, write: typeof writeXlsx = writeXlsx): Promise<Buffer> {
  const chunks: Uint8Array[] = [];
  const stream = new Writable({
    write: (chunk: Uint8Array, _encoding, done) => {
      chunks.push(chunk);
      done();
    },
  });
  await write(book, stream);
  return Buffer.concat(chunks);
}

/** The book read back by the library that wrote it. */
export async function readBack(bytes: Buffer): Promise<ExcelJS.Workbook> {
  const workbook = new ExcelJS.Workbook();
  // The types ask for an ArrayBuffer of their own; a Buffer is what the reader takes.
  await workbook.xlsx.load(bytes as unknown as ArrayBuffer);
  return workbook;
}

export function sheetOf(workbook: ExcelJS.Workbook, name: string): ExcelJS.Worksheet {
  const found = workbook.getWorksheet(name);
  if (found === undefined) throw new RangeError(`no sheet ${name}`);
  return found;
}

export function modelOf(book: Book, name: string): SheetModel {
  const found = book.sheets.find((sheet) => sheet.name === name);
  if (found === undefined) throw new RangeError(`no sheet ${name}`);
  return found;
}

/** Every member of a zip file by name, unpacked: so that nothing in it is overlooked. */
export function zipMembers(zip: Buffer): ReadonlyMap<string, string> {
  const members = new Map<string, string>();
  // The end record is the last thing in the file; it counts the members and says where their list begins.
  const end = zip.lastIndexOf(Buffer.from("PK\u0005\u0006", "latin1"));
  const count = zip.readUInt16LE(end + 10);
  let at = zip.readUInt32LE(end + 16);
  for (let i = 0; i < count; i++) {
    const method = zip.readUInt16LE(at + 10);
    const packedSize = zip.readUInt32LE(at + 20);
    const nameLength = zip.readUInt16LE(at + 28);
    const name = zip.toString("utf8", at + 46, at + 46 + nameLength);
    const local = zip.readUInt32LE(at + 42);
    const start = local + 30 + zip.readUInt16LE(local + 26) + zip.readUInt16LE(local + 28);
    const packed = zip.subarray(start, start + packedSize);
    members.set(name, (method === 0 ? packed : inflateRawSync(packed)).toString("utf8"));
    at += 46 + nameLength + zip.readUInt16LE(at + 30) + zip.readUInt16LE(at + 32);
  }
  return members;
}
