import { mkdir } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import type { Bid, IssuedLine } from "../bidding/bid.ts";
import { compareBids } from "../bidding/compared-bids.ts";
import { type CorrectedBid, correctBid } from "../bidding/corrected-bid.ts";
import { describeShared, sharedLumpSums, shareLumpSums } from "../bidding/lump-sums.ts";
import { breakEvens, turnsAt } from "../bidding/price-questions.ts";
import { checkResponsiveness } from "../bidding/responsiveness.ts";
import { writeAtomically } from "../program/atomic-write.ts";
import { basisForSettings } from "../program/basis-for-settings.ts";
import { bidCheckBand, biddingRules } from "../program/bidding-settings.ts";
import { type IssueRecord, readIssueRecords } from "../program/issue-records.ts";
import { OUTPUTS, ownFolder } from "../program/program-files.ts";
import { readSettings } from "../program/settings.ts";
import { describeProblem, fileProblem, type Problem } from "../quantity/problem.ts";
import type { Cents } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { type BidItemKey, houseBidItems } from "../reference/bid-items.ts";
import { workToBid } from "../season/bid-work.ts";
import { variantIn } from "../workbook/bid-schedule.ts";
import { type IssuedBid, readIssued } from "../workbook/issued-bid.ts";
import type { PlainBook } from "../workbook/plain-book.ts";
import { readBid } from "../workbook/read-bid.ts";
import { differences } from "../workbook/returned-differences.ts";
import type { PriceQuestion, Tabulation } from "../workbook/tabulation/tabulation.ts";
import { buildTabulation } from "../workbook/tabulation/tabulation-book.ts";
import { comparisonText } from "./bids-text.ts";
import { refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { fittingCostBook } from "./fitting-cost-book.ts";
import { sayReselected } from "./issued-season.ts";
import { loadSeasonOrSay } from "./load-season.ts";
import { openWorkbook } from "./open-workbook.ts";
import { planMinutes } from "./plan-minutes.ts";
import { priceLines, unitPricesOf } from "./priced-lines.ts";
import { standingBook } from "./standing-book.ts";
import { streamInto } from "./write-workbook.ts";

export const TABULATION_FILE = "bid-tabulation.xlsx";

export interface BidsOptions {
  /** The book that was issued; the latest issue of the program unless said, or outputs/bid-book.xlsx before any. */
  readonly issued?: string;
  /** A cost book for the estimate; the program's unit prices unless said. */
  readonly book?: string;
  readonly out?: string;
}

/** `wyeplan bids FOLDER A.xlsx B.xlsx …`: reads returned bids, corrects and compares them, and writes the tabulation. */
export async function tabulateBids(
  folder: string,
  files: readonly string[],
  options: BidsOptions,
  io: CommandIo,
): Promise<ExitCode> {
  const reading = await readSettings(folder);
  if (!reading.ok) return refuse(io, reading.problems);
  const { settings } = reading;
  const own = await ownFolder(folder, OUTPUTS);
  if (options.out === undefined && !own.ok) return refuse(io, [own.problem]);
  const basis = basisForSettings(settings);
  const rules = biddingRules(settings);
  const band = bidCheckBand(settings);
  const issues = await readIssueRecords(folder);
  if (!issues.ok) return refuse(io, issues.problems);
  const standing = await standingBook(folder, options.issued, issues.records);
  if (!standing.ok) return refuse(io, standing.problems);
  const issuedPath = standing.path;
  const issuedBook = await openWorkbook(issuedPath);
  if (!issuedBook.ok) return refuse(io, issuedBook.problems);
  const issued = readIssued(basename(issuedPath), issuedBook.value, basis.bidItems);
  if (!issued.ok) return refuse(io, issued.problems);
  const { lines, addenda } = issued.value;
  const season = standing.issue?.season ?? undefined;
  await sayReselected(
    folder,
    standing.issue,
    "bids are compared on what was issued, not on what is selected now.",
    io,
  );
  const minutes = options.book === undefined ? null : await minutesOf(folder, season, io);
  const estimate = await estimateOf(options.book, issued.value, basis, minutes);
  const scope = season === undefined ? "quantities as issued" : `quantities as issued for season ${season}`;
  if (!estimate.ok) return refuse(io, estimate.problems);

  const read: Bid[] = [];
  const refused: { file: string; because: string }[] = [];
  for (const path of files) {
    const taken = await takeIn(path, issuedBook.value, issued.value, basis, issues.records);
    if (taken.ok) {
      read.push(taken.bid);
      continue;
    }
    for (const problem of taken.problems) io.err(`${describeProblem(problem)}\n`);
    refused.push({ file: basename(path), because: describeProblem(taken.problems[0]!) });
  }
  const bids = named(read).map((bid) => correctBid(bid, lines, rules));
  if (bids.length === 0) {
    io.err("No bid could be compared.\n");
    return EXIT.notDone;
  }
  const tabulation: Tabulation = {
    head: basis.program,
    issue: `Issue ${issued.value.number}, content ${issued.value.content}${season === undefined ? "" : `, of season ${season}`}.`,
    lines,
    bids,
    estimate: estimate.prices,
    estimateSource: `${estimate.source}; ${scope}`,
    lumpSumsShared: sharedLumpSums(lines, estimate.prices).map(describeShared),
    scenarios: compareBids(bids, lines, rules, estimate.prices),
    responsiveness: bids.map((bid) => checkResponsiveness(bid, addenda, rules, lines)),
    questions: questionsOf(bids, lines),
    band,
    rules,
    refused,
  };
  const out = options.out ?? join(folder, OUTPUTS, TABULATION_FILE);
  const { writeXlsx } = await import("../workbook/write-xlsx.ts");
  await mkdir(dirname(out), { recursive: true });
  await writeAtomically(out, (file) => writeXlsx(buildTabulation(tabulation), streamInto(file)));
  io.out(`${comparisonText(tabulation)}\n${out}  the tabulation: as read, as corrected, every correction\n`);
  return refused.length === 0 ? EXIT.done : EXIT.doneWithProblems;
}

type Taken =
  | { readonly ok: true; readonly bid: Bid }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** One returned file: opened, of this issue, with nothing but the bidder's cells changed. */
async function takeIn(
  path: string,
  issuedBook: PlainBook,
  issued: IssuedBid,
  basis: Basis,
  records: readonly IssueRecord[],
): Promise<Taken> {
  const file = basename(path);
  const opened = await openWorkbook(path);
  if (!opened.ok) return opened;
  const own = readIssued(file, opened.value, basis.bidItems);
  if (!own.ok) return own;
  const { number, content } = own.value;
  if (number !== issued.number || content !== issued.content) {
    const found = `issue ${number}, content ${content}`;
    const expected = `issue ${issued.number}, content ${issued.content}`;
    return {
      ok: false,
      problems: [fileProblem(file, found, expected, superseded(own.value, issued, records))],
    };
  }
  const { problems, additions } = differences(file, issuedBook, issued, opened.value);
  return problems.length > 0
    ? { ok: false, problems }
    : { ok: true, bid: readBid(file, opened.value, issued, additions) };
}

/** Why prices on another issue do not count. */
function superseded(own: IssuedBid, issued: IssuedBid, records: readonly IssueRecord[]): string {
  const next = records.find(({ number }) => number === own.number + 1);
  const isKnown = records.some(({ number, content }) => number === own.number && content === own.content);
  if (!isKnown || next === undefined || own.number >= issued.number)
    return "Ask for prices on the issue that stands.";
  return (
    `Issue ${own.number} is superseded since ${next.date} by issue ${next.number} ` +
    `(addendum ${next.number - 1}: ${next.addendum ?? ""}). Ask for prices on issue ${issued.number}.`
  );
}

/** Bids of one name get their files' names behind it, and those of one file's name too their places among those given. */
function named(bids: readonly Bid[]): readonly Bid[] {
  const byFile = toldApart(bids, ({ name, file }) => (name === file ? name : `${name} (${file})`));
  return toldApart(byFile, ({ name }, place) => `${name}, bid ${place + 1}`);
}

function toldApart(bids: readonly Bid[], longer: (bid: Bid, place: number) => string): readonly Bid[] {
  const count = (name: string) => bids.filter((bid) => bid.name === name).length;
  return bids.map((bid, place) => (count(bid.name) > 1 ? { ...bid, name: longer(bid, place) } : bid));
}

type Estimate =
  | { readonly ok: true; readonly prices: readonly (Cents | null)[]; readonly source: string }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Crew minutes of the plan that was issued, the whole or a season's; null where it cannot be planned, which was said. */
async function minutesOf(
  folder: string,
  season: string | undefined,
  io: CommandIo,
): Promise<ReadonlyMap<BidItemKey, number> | null> {
  const loaded = await loadSeasonOrSay(folder, season, io);
  return loaded === null ? null : planMinutes(workToBid(loaded.program));
}

/** The engineer's estimate over the lines as issued: of a cost book of the city's own, by the same machinery, or of the program's unit prices. */
async function estimateOf(
  path: string | undefined,
  issued: IssuedBid,
  basis: Basis,
  minutes: ReadonlyMap<BidItemKey, number> | null,
): Promise<Estimate> {
  const { lines } = issued;
  if (path === undefined) {
    const prices = lines.map((line) => {
      if (line.fixed !== null) return line.fixed;
      const item = houseBidItems.items.find(({ number }) => number === Math.floor(Number(line.item)));
      if (item === undefined) return null;
      return (
        basis.prices[`${item.key} | ${variantIn(line.description, item)}`] ?? basis.prices[item.key] ?? null
      );
    });
    return { ok: true, prices: shareLumpSums(lines, prices), source: basis.priceSource };
  }
  const reading = await fittingCostBook(path, issued);
  if (!reading.ok) return reading;
  const prices = unitPricesOf(priceLines(reading.book, lines, minutes));
  return { ok: true, prices, source: reading.book.source };
}

/** The lowest base bid as corrected against each other one. */
function questionsOf(bids: readonly CorrectedBid[], lines: readonly IssuedLine[]): readonly PriceQuestion[] {
  const base = lines.flatMap((line, i) => (line.part === "base" ? [i] : []));
  const own = base.map((i) => lines[i]!);
  const pricesOf = (bid: CorrectedBid) => base.map((i) => bid.lines[i]!.price);
  const whole = bids.flatMap((bid, i) => {
    const total = bid.corrected.get("base") ?? null;
    return total === null || pricesOf(bid).includes(null) ? [] : [{ i, total }];
  });
  const [lowest, ...others] = whole.toSorted((a, b) => a.total - b.total || a.i - b.i);
  if (lowest === undefined) return [];
  return others.map(({ i }) => {
    const [lower, higher] = [pricesOf(bids[lowest.i]!), pricesOf(bids[i]!)];
    return {
      lower: lowest.i,
      higher: i,
      breakEvens: breakEvens(own, lower, higher).map((found) => ({ ...found, line: base[found.line]! })),
      turnsAt: turnsAt(own, lower, higher),
    };
  });
}
