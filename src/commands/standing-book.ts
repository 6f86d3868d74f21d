import { join } from "node:path";
import { type IssuedBook, type IssueRecord, issuedBook } from "../program/issue-records.ts";
import { BID_BOOK_FILE } from "./write-workbook.ts";

/** The book that bids are compared with: the one named, else the latest issue, else the program's bid book. */
export async function standingBook(
  folder: string,
  named: string | undefined,
  records: readonly IssueRecord[],
): Promise<IssuedBook> {
  if (named !== undefined) return { ok: true, path: named };
  const latest = records.at(-1);
  return latest === undefined
    ? { ok: true, path: join(folder, "outputs", BID_BOOK_FILE) }
    : issuedBook(folder, latest);
}
