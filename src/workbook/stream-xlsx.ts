import type { Writable } from "node:stream";
import { finished } from "node:stream/promises";
import ExcelJS from "exceljs";
import { setProperties } from "./book-properties.ts";
import { addNames } from "./cell-names.ts";
import { fillSheet } from "./fill-sheet.ts";
import type { Book } from "./sheet-model.ts";
import { sheetOptions } from "./sheet-options.ts";

/** Bytes of a sheet that may wait to be packed. */
const LONGEST_QUEUE = 1 << 20;
/** Packing at level 1 takes half the time of the usual level 6 for files about a fifth larger. */
const ZIP = { zlib: { level: 1 } } as const;

/**
 * Writes a book row after row, so that no more than a few rows are in memory, whatever their number.
 *
 * The library's streaming writer never waits: rows queue in memory until they are packed, a gigabyte of them for a
 * big program. So the queue is watched here, in a private field, and rows wait for it. A test holds that it is there.
 */
export async function writeStreaming(book: Book, stream: Writable): Promise<void> {
  const workbook = new BufferWriter({ stream, useStyles: true, zip: ZIP });
  setProperties(workbook, book);
  await Promise.all([finished(stream), writeSheets(workbook, book, stream)]);
}

/** What packs the members of the file; the library's types do not tell of it. */
interface Packer {
  append(content: unknown, member: object): void;
}

/** Gives the packer bytes instead of text: text it would turn into bytes in a way that Node warns the user about. */
class BufferWriter extends ExcelJS.stream.xlsx.WorkbookWriter {
  // The first member that is added, from within the constructor.
  override addThemes(): Promise<void> {
    const { zip } = this as unknown as { readonly zip: Packer };
    const append = zip.append.bind(zip);
    zip.append = (content, member) =>
      append(typeof content === "string" ? Buffer.from(content) : content, member);
    return super.addThemes();
  }
}

async function writeSheets(
  workbook: ExcelJS.stream.xlsx.WorkbookWriter,
  book: Book,
  stream: Writable,
): Promise<void> {
  try {
    for (const sheet of book.sheets) {
      const worksheet = workbook.addWorksheet(sheet.name, sheetOptions(book, sheet));
      putElementsInOrder(worksheet);
      const queue = await queueOf(worksheet, stream);
      await fillSheet(worksheet, book.head, sheet, () => untilShort(queue, stream));
      worksheet.commit();
    }
    // The types do not tell of them, and the writer has them as the document has.
    addNames((workbook as unknown as { readonly definedNames: ExcelJS.DefinedNames }).definedNames, book);
    await workbook.commit();
  } catch (error) {
    // Whoever waits for the stream is told too.
    stream.destroy(error as Error);
    throw error;
  }
}

/** The packer's end of a worksheet. */
export interface PackingQueue {
  readonly _writableState: { readonly length: number };
}

/** The writer's own parts, which its types do not tell. */
interface WorksheetParts {
  readonly stream: { readonly pipes: readonly PackingQueue[] };
  _writeAutoFilter(): void;
  _writeSheetProtection(): void;
}

const partsOf = (worksheet: ExcelJS.Worksheet): WorksheetParts => worksheet as unknown as WorksheetParts;

/** The queue of a worksheet, which is there once the sheets before it are packed. */
export async function queueOf(worksheet: ExcelJS.Worksheet, stream: Writable): Promise<PackingQueue> {
  const { pipes } = partsOf(worksheet).stream;
  while (pipes.length === 0) await nextTurn(stream);
  const [queue] = pipes;
  if (typeof queue?._writableState?.length !== "number")
    throw new TypeError("stream-xlsx: the queue of this version of exceljs cannot be read");
  return queue;
}

async function untilShort(queue: PackingQueue, stream: Writable): Promise<void> {
  while (queue._writableState.length > LONGEST_QUEUE) await nextTurn(stream);
}

/** Lets the packer work. A stream that has failed takes nothing more, and would be waited for for ever. */
async function nextTurn(stream: Writable): Promise<void> {
  if (stream.destroyed) throw stream.errored ?? new Error("the stream of the workbook was closed");
  await new Promise((resolve) => setImmediate(resolve));
}

/**
 * The streaming writer puts the protection of a sheet behind its filter and merged cells; the file format wants it
 * before them (ECMA-376 Part 1, CT_Worksheet), and a spreadsheet may offer to repair the file. So it is written first.
 */
function putElementsInOrder(worksheet: ExcelJS.Worksheet): void {
  const parts = partsOf(worksheet);
  const writeProtection = parts._writeSheetProtection.bind(parts);
  const writeFilter = parts._writeAutoFilter.bind(parts);
  parts._writeAutoFilter = () => {
    writeProtection();
    writeFilter();
  };
  parts._writeSheetProtection = () => {};
}
