import type { Writable } from "node:stream";
import { finished } from "node:stream/promises";
import { sheetPart, smallParts } from "./book-parts.ts";
import { pictureParts } from "./picture-parts.ts";
import type { Book } from "./sheet-model.ts";
import { sheetXml } from "./sheet-xml.ts";
import { StyleSheet } from "./style-sheet.ts";
import { ZipStream } from "./zip-stream.ts";

/** Packing at level 1 takes a third of the time of the usual level 6, for files about a fifth larger. */
export const PACKING_LEVEL = 1;

/**
 * Writes a book row after row, so that no more than a few rows are in memory, whatever their number: rows are worked
 * out no faster than they are packed, and packed no faster than the stream takes them.
 *
 * The file is written here, without the library that writes small books. Its streaming writer took ten times as long,
 * queued every row in memory unless its private fields were watched, and put elements of a sheet in the wrong order.
 *
 * @param level of packing; only the bench asks for another
 */
export async function writeStreaming(book: Book, stream: Writable, level = PACKING_LEVEL): Promise<void> {
  await Promise.all([finished(stream), writeParts(book, stream, level)]);
}

async function writeParts(book: Book, stream: Writable, level: number): Promise<void> {
  try {
    const zip = new ZipStream(stream, level);
    for (const [name, xml] of smallParts(book)) await zip.add(name, [Buffer.from(xml)]);
    const styles = new StyleSheet();
    for (const [i, sheet] of book.sheets.entries())
      await zip.add(sheetPart(i), sheetXml(book, sheet, styles));
    for (const [name, bytes] of pictureParts(book)) await zip.add(name, [bytes]);
    // Last, because only now every cell has asked for its style.
    await zip.add("xl/styles.xml", [Buffer.from(styles.xml())]);
    await zip.end();
  } catch (error) {
    // Whoever waits for the stream is told too.
    stream.destroy(error as Error);
    throw error;
  }
}
