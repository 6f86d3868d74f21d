import { readFile, stat } from "node:fs/promises";
import { basename } from "node:path";
import { fileProblem } from "../quantity/problem.ts";
import { type PlainBook, readPlainBook } from "../workbook/plain-book.ts";
import type { Opened } from "../workbook/unreadable.ts";
import { ZIP_BOUNDS } from "../workbook/zip-file.ts";

/** A workbook from the disk as plain cells; one too big is refused before it is read. */
export async function openWorkbook(path: string): Promise<Opened<PlainBook>> {
  const file = basename(path);
  const { size } = await stat(path);
  if (size > ZIP_BOUNDS.bytes) {
    const expected = `a workbook of ${ZIP_BOUNDS.bytes} bytes at most`;
    return { ok: false, problems: [fileProblem(file, `${size} bytes`, expected, "It was not read.")] };
  }
  return readPlainBook(file, await readFile(path));
}
