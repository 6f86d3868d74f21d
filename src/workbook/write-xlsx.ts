import type { Writable } from "node:stream";
import { writeDocument } from "./document-xlsx.ts";
import { type Book, cellsIn, MOST_DOCUMENT_CELLS } from "./sheet-model.ts";
import { writeStreaming } from "./stream-xlsx.ts";

/** Writes a book into the stream and waits until the stream has taken all of it. */
export function writeXlsx(book: Book, stream: Writable): Promise<void> {
  return cellsIn(book.sheets) > MOST_DOCUMENT_CELLS
    ? writeStreaming(book, stream)
    : writeDocument(book, stream);
}
