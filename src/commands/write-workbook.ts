import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import type { TreatmentKind } from "../columns/plan-columns.ts";
import { planLateral } from "../plan/plan-lateral.ts";
import { describeReason } from "../plan/reason.ts";
import { writeAtomically } from "../program/atomic-write.ts";
import { cautionsFor } from "../reference/cautions.ts";
import { describeSource, isAssumption } from "../reference/source.ts";
import { lateralAt } from "../season/lateral-at.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { buildBidBook } from "../workbook/bid-book.ts";
import { readBidView } from "../workbook/bid-view.ts";
import type { BookContents } from "../workbook/book-contents.ts";
import { buildPlanningBook } from "../workbook/planning-book.ts";

/** What the books are called in the output folder. */
export const BID_BOOK_FILE = "bid-book.xlsx";
export const PLANNING_BOOK_FILE = "planning-book.xlsx";

export interface WrittenBooks {
  /** For bidders. */
  readonly bidBook: string;
  /** For the city: it holds the estimate. */
  readonly planningBook: string;
}

/**
 * Writes both books into the folder, making it if it is not there. Each file is put in place whole or not at all,
 * and neither before both have been built.
 */
export async function writeWorkbook(program: PlannedProgram, folder: string): Promise<WrittenBooks> {
  const contents = bookContents(program);
  const bidBook = { path: join(folder, BID_BOOK_FILE), book: buildBidBook(readBidView(contents)) };
  const planningBook = { path: join(folder, PLANNING_BOOK_FILE), book: buildPlanningBook(contents) };
  // exceljs takes half a second to load, and only this command needs it.
  const { writeXlsx } = await import("../workbook/write-xlsx.ts");
  await mkdir(folder, { recursive: true });
  for (const { path, book } of [bidBook, planningBook]) {
    await writeAtomically(path, (file) => writeXlsx(book, file.createWriteStream({ autoClose: false })));
  }
  return { bidBook: bidBook.path, planningBook: planningBook.path };
}

/** The plan with what the books need beside it. */
export function bookContents(program: PlannedProgram): BookContents {
  const { basis, tables, totals } = program;
  const planned = Object.entries(totals.program.byTreatment) as [TreatmentKind, number][];
  return {
    program,
    recordAt: (row) => planLateral(lateralAt(tables, row), basis),
    reasonInWords: (reason) => describeReason(reason, basis.program),
    sourceInWords: describeSource,
    isAssumption,
    cautions: cautionsFor(new Set(planned.filter(([, count]) => count > 0).map(([treatment]) => treatment))),
  };
}
