import { basename } from "node:path";
import { readAtMost } from "../program/program-files.ts";
import { type PlainBook, readPlainBook } from "../workbook/plain-book.ts";
import type { Opened } from "../workbook/unreadable.ts";
import { ZIP_BOUNDS } from "../workbook/zip-file.ts";

/** A workbook from the disk as plain cells; one too big is refused before it is read. */
export async function openWorkbook(path: string): Promise<Opened<PlainBook>> {
  const file = basename(path);
  const read = await readAtMost(path, ZIP_BOUNDS.bytes, file);
  return read.ok ? readPlainBook(file, read.bytes) : { ok: false, problems: [read.problem] };
}
