import { join } from "node:path";
import { type IssuedBook, type IssueRecord, issuedBook } from "../program/issue-records.ts";
import { fileInside, OUTPUTS } from "../program/program-files.ts";
import { BID_BOOK_FILE } from "./write-workbook.ts";

/** The book, and the record of its issue; undefined where nothing was issued, or the book was named. */
export type StandingBook =
  | (Extract<IssuedBook, { readonly ok: true }> & { readonly issue: IssueRecord | undefined })
  | Extract<IssuedBook, { readonly ok: false }>;

/** The book that bids are compared with: the one named, else the latest issue, else the program's bid book. */
export async function standingBook(
  folder: string,
  named: string | undefined,
  records: readonly IssueRecord[],
): Promise<StandingBook> {
  if (named !== undefined) return { ok: true, path: named, issue: undefined };
  const latest = records.at(-1);
  if (latest === undefined) {
    const inside = await fileInside(folder, `${OUTPUTS}/${BID_BOOK_FILE}`);
    // As people wrote it, not the real path: it is what they are shown.
    return inside.ok
      ? { ok: true, path: join(folder, OUTPUTS, BID_BOOK_FILE), issue: undefined }
      : { ok: false, problems: [inside.problem] };
  }
  const book = await issuedBook(folder, latest);
  return book.ok ? { ...book, issue: latest } : book;
}
