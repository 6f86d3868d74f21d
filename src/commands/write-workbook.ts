import { type FileHandle, mkdir } from "node:fs/promises";
import { join } from "node:path";
import { Writable } from "node:stream";
import { stripOf } from "../pictures/season-strip.ts";
import { planLateral } from "../plan/plan-lateral.ts";
import { writeAtomically } from "../program/atomic-write.ts";
import { worksOver, workToBid } from "../season/bid-work.ts";
import { breakDown } from "../season/breakdown.ts";
import { lateralAt } from "../season/lateral-at.ts";
import { noticesOf } from "../season/notices.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { pictureRisk } from "../season/risk-picture.ts";
import { planSeason } from "../season/season-calendar.ts";
import { takeOffByDistrict } from "../season/takeoff.ts";
import { heldStatuses, trackProgress } from "../season/tracking.ts";
import { calendarFinish } from "../season/uncertainty/calendar-finish.ts";
import { seasonUncertainty } from "../season/uncertainty/season-uncertainty.ts";
import { knownDay } from "../season/work-days.ts";
import { type BidExtras, buildBidBook } from "../workbook/bid-book.ts";
import { FIRST_ISSUE } from "../workbook/bid-form-sheet.ts";
import { type BidView, type DividedBid, readBidView } from "../workbook/bid-view.ts";
import type { BookContents } from "../workbook/book-contents.ts";
import { ROWS_A_SHEET } from "../workbook/long-list.ts";
import { buildPlanningBook } from "../workbook/planning-book.ts";
import type { BookedSelection } from "../workbook/season-sheet.ts";

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
 * and neither before both have been written: where the second fails, the first of before is still there.
 *
 * @param extrasOf what the bid book shows beside the plan
 * @param divided the alternates and allowances of the bid book and the estimate; a base bid alone unless said
 */
export async function writeWorkbook(
  program: PlannedProgram,
  folder: string,
  selected: BookedSelection | null = null,
  extrasOf: (view: BidView) => Promise<BidExtras> = async () => ({}),
  divided: DividedBid | null = null,
): Promise<WrittenBooks> {
  const contents = { ...bookContents(program), selected };
  const view = readBidView(contents, divided);
  const bid = buildBidBook(view, FIRST_ISSUE, [], await extrasOf(view));
  const bidBook = { path: join(folder, BID_BOOK_FILE), book: bid };
  const planningBook = { path: join(folder, PLANNING_BOOK_FILE), book: buildPlanningBook(contents, divided) };
  // exceljs takes half a second to load, and only this command needs it.
  const { writeXlsx } = await import("../workbook/write-xlsx.ts");
  await mkdir(folder, { recursive: true });
  await writeAtomically(bidBook.path, async (file) => {
    await writeXlsx(bidBook.book, streamInto(file));
    await writeAtomically(planningBook.path, (other) => writeXlsx(planningBook.book, streamInto(other)));
  });
  return { bidBook: bidBook.path, planningBook: planningBook.path };
}

/**
 * A stream into an open file that leaves it open. The file's own write stream either closes it or, told not to,
 * keeps close() waiting for ever.
 */
export const streamInto = (file: FileHandle): Writable =>
  new Writable({
    write: (chunk: Uint8Array, _encoding, done) => {
      // writeFile goes on where the last write ended, and writes all of the chunk.
      file.writeFile(chunk).then(() => done(), done);
    },
  });

/** The plan with what the books need beside it. A test asks for fewer rows a sheet. */
export const bookContents = (program: PlannedProgram, rowsASheet = ROWS_A_SHEET): BookContents => ({
  ...lateralsOf(program),
  bid: lateralsOf(workToBid(program)),
  worksOver: worksOver(program),
  heldStatuses,
  recordAt: (row) => planLateral(lateralAt(program.tables, row), program.basis),
  season: bookedSeason(program),
  notices: noticesOf(program),
  breakdown: breakDown(program),
  takeoff: takeOffByDistrict(program, program.basis),
  progress: trackProgress(program),
  uncertainty: seasonUncertainty(program, {}, calendarFinish(program)),
  selected: null,
  rowsASheet,
  picture: pictureRisk(program),
});

const lateralsOf = (program: PlannedProgram): BookContents["bid"] => ({
  program,
  lateralAt: (row) => lateralAt(program.tables, row),
});

/** The season's calendar with its strip, where the program has one. */
function bookedSeason(program: PlannedProgram): BookContents["season"] {
  const { calendar } = program.basis;
  const plan = planSeason(program);
  if (plan === null || calendar === null) return null;
  const strip = stripOf(plan.calendars.expected, knownDay(calendar.starts), knownDay(calendar.ends));
  return { plan, strip };
}
