import type { Writable } from "node:stream";
import { writeDocument } from "./document-xlsx.ts";
import { type Book, cellsIn, MOST_DOCUMENT_CELLS } from "./sheet-model.ts";
import { writeStreaming } from "./stream-xlsx.ts";

/**
 * Writes a book into the stream and waits until the stream has taken all of it.
 *
 * @param most cells of a book that is written as a document; tests ask for fewer
 */
export function writeXlsx(book: Book, stream: Writable, most = MOST_DOCUMENT_CELLS): Promise<void> {
  return cellsIn(book.sheets) > most ? writeStreaming(book, stream) : writeDocument(book, stream);
}
