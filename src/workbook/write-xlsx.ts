import type { Writable } from "node:stream";
import { writeDocument } from "./document-xlsx.ts";
import type { Book } from "./sheet-model.ts";
import { writeStreaming } from "./stream-xlsx.ts";

/**
 * A book of more cells is written as a stream. As a document it is kept whole first, about three quarters of a
 * kilobyte a cell (measured), but its texts are shared and the file is a quarter smaller.
 */
export const MOST_DOCUMENT_CELLS = 50_000;

/** Writes a book into the stream and waits until the stream has taken all of it. */
export function writeXlsx(book: Book, stream: Writable): Promise<void> {
  return cellsIn(book) > MOST_DOCUMENT_CELLS ? writeStreaming(book, stream) : writeDocument(book, stream);
}

const cellsIn = ({ sheets }: Book): number =>
  sheets.reduce((sum, { rows, columns }) => sum + rows.length * columns.length, 0);
