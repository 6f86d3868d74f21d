import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { changesBetween, type IssueChange } from "../bidding/issue-changes.ts";
import { writeAtomically } from "../program/atomic-write.ts";
import { hashFile } from "../program/content-hash.ts";
import { type IssueRecord, keepIssueRecord, readIssueRecords } from "../program/issue-records.ts";
import type { ProgramLock } from "../program/lock.ts";
import { OUTPUTS, ownFolder } from "../program/program-files.ts";
import type { Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { type BidExtras, buildBidBook } from "../workbook/bid-book.ts";
import { contentMarkOf, FIRST_ISSUE, type IssueMark } from "../workbook/bid-form-sheet.ts";
import { type BidView, readBidView } from "../workbook/bid-view.ts";
import type { Addendum } from "../workbook/changes-sheet.ts";
import { notStated } from "../workbook/conditions-sheet.ts";
import { cellsAsShown, issuedContent } from "../workbook/issued-content.ts";
import { bidExtras, dividedBid, seasonsNamed } from "./bid-extras.ts";
import { asOneWriter, refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { sayOtherSeason, sayReselected, scopeName, seasonMarks } from "./issued-season.ts";
import { exitCodeOf } from "./load-program.ts";
import { loadSeasonOrSay } from "./load-season.ts";
import { sayNotBid } from "./not-bid.ts";
import { fitted } from "./wrapped.ts";
import { bookContents, streamInto } from "./write-workbook.ts";

export interface IssueOptions {
  /** What a re-issue changes, in words that bidders read. */
  readonly addendum?: string;
  /** Only the laterals of this saved season. */
  readonly season?: string;
}

/** What an addendum of before it had to be put into words says: the sheet lists all of it. */
const UNSAID = "see the sheet Changes";

/** `wyeplan issue FOLDER [--season NAME] [--addendum "what changed"]`: a numbered bid book, its record, and what changed since the last, which must be said. */
export const issueBid = (folder: string, options: IssueOptions, io: CommandIo): Promise<ExitCode> =>
  asOneWriter(folder, io, (lock, when) => issueAsWriter(lock, when, options, io));

async function issueAsWriter(
  lock: ProgramLock,
  when: string,
  options: IssueOptions,
  io: CommandIo,
): Promise<ExitCode> {
  const { folder } = lock;
  const reading = await readIssueRecords(folder);
  if (!reading.ok) return refuse(io, reading.problems);
  const { records } = reading;
  const last = records.at(-1);
  if (last === undefined && options.addendum !== undefined) {
    io.err(
      "Nothing was issued yet, so there is nothing for an addendum to change. Issue without --addendum.\n",
    );
    return EXIT.notDone;
  }
  const loaded = await loadSeasonOrSay(folder, options.season, io);
  if (loaded === null) return EXIT.notDone;
  const { program, settings } = loaded;
  sayNotBid(program, io);
  const divided = await dividedBid(folder, program, loaded.whole, settings);
  if (!divided.ok) return refuse(io, divided.problems);
  const seasons = [...(options.season === undefined ? [] : [options.season]), ...seasonsNamed(divided.bid)];
  await sayReselected(folder, last, "this issue is of what is selected now.", io, seasons);
  const view = readBidView(bookContents(program), divided.bid);
  const extras = await bidExtras(view, program, settings);
  const date = when.slice(0, 10);
  const number = records.length + 1;
  const plain = buildBidBook(view, FIRST_ISSUE, [], extras);
  const content = issuedContent(view, plain);
  const changes = last === undefined ? [] : changesBetween(last, content, cellsAsShown(plain));
  if (last !== undefined && changes.length === 0) {
    io.out(
      `Nothing differs from issue ${last.number} of ${last.date} (${last.book.file}): nothing was issued.\n`,
    );
    return EXIT.done;
  }
  if (last !== undefined && (options.addendum ?? "").trim() === "")
    return refuse(io, [unsaidChanges(last, options.season, changes.length)]);
  sayOtherSeason(last, options.season, io);

  const mark: IssueMark = { number, addenda: addendaOf(records, number, date, options.addendum) };
  const book = buildBidBook(view, mark, changes, extras);
  const outputs = await ownFolder(folder, OUTPUTS);
  if (!outputs.ok) return refuse(io, [outputs.problem]);
  const file = `${OUTPUTS}/bid-book-${number}.xlsx`;
  const path = join(folder, file);
  const { writeXlsx } = await import("../workbook/write-xlsx.ts");
  await mkdir(outputs.path, { recursive: true });
  await writeAtomically(path, (into) => writeXlsx(book, streamInto(into)));
  const record: IssueRecord = {
    schema: 1,
    number,
    date,
    addendum: mark.addenda.at(-1)?.text ?? null,
    season: options.season ?? null,
    seasons: await seasonMarks(folder, seasons),
    content: contentMarkOf(book),
    book: { file, sha256: await hashFile(path) },
    lines: [...content.lines],
    sheets: content.sheets.map((sheet) => ({
      ...sheet,
      notes: [...sheet.notes],
      headings: [...sheet.headings],
      keys: [...sheet.keys],
      rows: sheet.rows.map((row) => [...row]),
    })),
  };
  const problems = await keepIssueRecord(lock, record);
  if (problems.length > 0) return refuse(io, problems);
  sayNotStated(view, extras, io);
  io.out(`${path}  issue ${number}, content ${record.content}: for bidders\n${changesText(mark, changes)}`);
  return exitCodeOf(program);
}

/** A changed bid is not issued before somebody says what changed: a flag forgotten would else reach bidders. */
function unsaidChanges(last: IssueRecord, season: string | undefined, changes: number): Problem {
  const before = last.season;
  const say = 'Nothing is issued. Say what changed, in words that bidders read: --addendum "what changed".';
  const forgotten = before === null ? "leave --season out" : `give --season ${before}`;
  return {
    severity: "rejected",
    file: `issue ${last.number + 1}`,
    row: null,
    column: null,
    found: `${showCount(changes)} change(s) since issue ${last.number} of ${last.date}`,
    expected: "an addendum that says what changed",
    remedy:
      (before ?? undefined) === season
        ? say
        : `Issue ${last.number} was of ${scopeName(before)}, this one would be of ${scopeName(season)}: ${forgotten} if the former is meant. ${say}`,
  };
}

/** What bidders will ask: the owner may as well say it before they do. */
function sayNotStated(view: BidView, { conditions }: BidExtras, io: CommandIo): void {
  const missing = notStated(view, conditions);
  if (missing.length === 0) return;
  const text = `Bidders are told that this is not stated: ${missing.join("; ")}. "bidding": { "conditions": … } in program.json states it.`;
  io.err(`${fitted(text, io)}\n`);
}

/** Every addendum so far: one for each issue behind the first. */
function addendaOf(
  records: readonly IssueRecord[],
  number: number,
  date: string,
  text: string | undefined,
): readonly Addendum[] {
  if (number === 1) return [];
  const earlier = records
    .slice(1)
    .map((record) => ({ number: record.number - 1, date: record.date, text: record.addendum ?? UNSAID }));
  return [...earlier, { number: number - 1, date, text: text ?? UNSAID }];
}

/** Most changes of the schedule that the terminal lists; the sheet has them all. */
const MOST_LISTED = 12;

function changesText({ number }: IssueMark, changes: readonly IssueChange[]): string {
  if (number === 1) return "";
  const ofLines = changes.filter(({ line }) => line !== null);
  const listed = ofLines
    .slice(0, MOST_LISTED)
    .map(({ about, what, from, to }) => `  ${about}: ${what} ${from} → ${to}\n`);
  const more =
    ofLines.length > listed.length ? `  and ${showCount(ofLines.length - listed.length)} more\n` : "";
  return (
    `Addendum ${number - 1} takes the place of issue ${number - 1}: ${showCount(changes.length)} change(s), ` +
    `${showCount(ofLines.length)} of them in the bid schedule; all are on the sheet Changes.\n${listed.join("")}${more}`
  );
}
