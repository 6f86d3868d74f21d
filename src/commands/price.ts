import { stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { type IssuedLine, partName } from "../bidding/bid.ts";
import type { CostBook } from "../bidding/cost-book.ts";
import { describeShared, sharedLumpSums } from "../bidding/lump-sums.ts";
import { money } from "../bidding/money-words.ts";
import { sensitivities } from "../bidding/sensitivity.ts";
import { breakEvenQuantity, costParts, type PricedQuantity } from "../bidding/unit-price.ts";
import { writeAtomically } from "../program/atomic-write.ts";
import { type FreePath, freePath, whatStands } from "../program/free-path.ts";
import { readIssueRecords } from "../program/issue-records.ts";
import { extend } from "../quantity/money.ts";
import { showPercent } from "../quantity/percent.ts";
import { fileProblem } from "../quantity/problem.ts";
import { grouped, showCount, showHundredths } from "../quantity/show-quantity.ts";
import { type Cents, cents } from "../quantity/si.ts";
import { type BidItemKey, houseBidItems } from "../reference/bid-items.ts";
import { workToBid } from "../season/bid-work.ts";
import { fillPrices, pricesStanding } from "../workbook/fill-prices.ts";
import { readIssued } from "../workbook/issued-bid.ts";
import { refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { fittingCostBook } from "./fitting-cost-book.ts";
import { sayReselected } from "./issued-season.ts";
import { loadSeasonOrSay } from "./load-season.ts";
import { openWorkbook } from "./open-workbook.ts";
import { left, plainTable, right } from "./plain-table.ts";
import { planMinutes } from "./plan-minutes.ts";
import { type PricedLine, priceLines, unitPricesOf } from "./priced-lines.ts";
import { type StandingBook, standingBook } from "./standing-book.ts";

/** How much higher a rate is when the table says what it does to the total. */
const HIGHER = 0.1;
const MOST_RATES = 12;

export interface PriceOptions {
  readonly book: string;
  readonly out?: string;
}

/**
 * `wyeplan price FOLDER|BID.xlsx --book BOOK.json`: unit prices from a cost book, filled into the city's own workbook.
 * What is in each price goes into a private file beside the cost book, and nowhere into the workbook.
 */
export async function priceBid(target: string, options: PriceOptions, io: CommandIo): Promise<ExitCode> {
  const ofFolder = (await stat(target)).isDirectory();
  const standing = ofFolder
    ? await standingOf(target)
    : ({ ok: true, path: target, issue: undefined } as const);
  if (!standing.ok) return refuse(io, standing.problems);
  const bid = standing.path;
  const opened = await openWorkbook(bid);
  if (!opened.ok) return refuse(io, opened.problems);
  const issued = readIssued(basename(bid), opened.value, houseBidItems);
  if (!issued.ok) return refuse(io, issued.problems);
  const fitting = await fittingCostBook(options.book, issued.value);
  if (!fitting.ok) return refuse(io, fitting.problems);
  const { book } = fitting;
  let minutes: ReadonlyMap<BidItemKey, number> | null = null;
  if (ofFolder) {
    await sayReselected(
      target,
      standing.issue,
      "prices go into the book as it was issued, with the minutes of what is selected now. Issue again if that is to be bid.",
      io,
    );
    const loaded = await loadSeasonOrSay(target, standing.issue?.season ?? undefined, io);
    if (loaded === null) return EXIT.notDone;
    minutes = planMinutes(workToBid(loaded.program));
  }

  const { lines } = issued.value;
  const priced = priceLines(book, lines, minutes);
  const filled = fillPrices(basename(bid), opened.value, issued.value, unitPricesOf(priced));
  if (!filled.ok) return refuse(io, filled.problems);
  const out = await placeOf(options.out, bid, filled.value, io);
  if (out === null) return EXIT.notDone;
  const text = priceText(book, lines, priced, minutes);
  // Beside the cost book, one for each priced book: what is in one price list says nothing of another.
  const keptName = `${options.book.replace(/\.json$/i, "")}.${basename(out.path, ".xlsx")}.prices`;
  const kept = await freePath(keptName, ".txt", Buffer.from(text));
  if (!kept.stands) await writeAtomically(kept.path, text);
  if (!out.stands) await writeAtomically(out.path, filled.value);
  io.out(`${text}\n${out.path}  the city's book with the prices in it, and nothing else of the above\n`);
  io.out(`${kept.path}  private: what is in each price; never send it with the bid\n`);
  for (const { pricing, line } of priced)
    if (!pricing.ok) io.err(`Item ${line.item} is left without a price: ${pricing.because}.\n`);
  for (const said of replacedPrices(priced, pricesStanding(issued.value))) io.err(`${said}\n`);
  return priced.every(({ pricing }) => pricing.ok) ? EXIT.done : EXIT.doneWithProblems;
}

/** Prices that stood in the given book and do not in the priced one: somebody may have typed them. */
function replacedPrices(
  priced: readonly PricedLine[],
  standing: ReturnType<typeof pricesStanding>,
): readonly string[] {
  return priced.flatMap(({ line, pricing }, i) => {
    const was = standing[i] ?? null;
    const now = pricing.ok ? pricing.unit.price : null;
    const amount = wholeCents(was);
    if (line.fixed !== null || was === null || was === "" || (amount !== null && amount === now)) return [];
    const shown = amount === null ? JSON.stringify(was) : money(amount);
    return `Item ${line.item}: ${shown} stood in the given book; in the priced one stands ${now === null ? "nothing" : money(now)}.`;
  });
}

/** Null of what is no number of cents. */
function wholeCents(value: string | number | boolean | null): Cents | null {
  const amount = typeof value === "number" ? Math.round(value * 100) : Number.NaN;
  return Number.isSafeInteger(amount) ? cents(amount) : null;
}

/** Where the priced book goes: over nothing that somebody may have filled in since. Null where there is no such place, which is said. */
async function placeOf(
  named: string | undefined,
  bid: string,
  bytes: Buffer,
  io: CommandIo,
): Promise<FreePath | null> {
  if (named === undefined) {
    const name = join(dirname(bid), `${basename(bid, ".xlsx")}-priced`);
    const free = await freePath(name, ".xlsx", bytes);
    if (free.path !== `${name}.xlsx`)
      io.err(`${name}.xlsx holds something else and stays as it is: the prices are in ${free.path}.\n`);
    return free;
  }
  const there = await whatStands(named, bytes);
  if (there !== "another") return { path: named, stands: there === "the same" };
  refuse(io, [
    fileProblem(
      named,
      "a file with something else in it",
      "a name where no file is",
      "Name another with --out, or move the file away: what was filled in there would be lost.",
    ),
  ]);
  return null;
}

/** The latest issue of a program, or its bid book where nothing was issued. */
async function standingOf(folder: string): Promise<StandingBook> {
  const issues = await readIssueRecords(folder);
  return issues.ok ? standingBook(folder, undefined, issues.records) : issues;
}

const NOT_AWARDED =
  "The share of an alternate that is not awarded is paid by nobody: where it has to be spent all the same, price each part by itself in the book.";

function priceText(
  book: CostBook,
  lines: readonly IssuedLine[],
  priced: readonly PricedLine[],
  minutes: ReadonlyMap<BidItemKey, number> | null,
): string {
  const used = costParts.filter((part) =>
    priced.some(({ pricing }) => pricing.ok && pricing.unit.parts[part] !== 0),
  );
  const areWhole = priced.every(({ pricing }) => pricing.ok);
  let total = cents(0);
  const rows = priced.map(({ line, quantity, pricing }) => {
    const head = [line.item, wordsOf(line, quantity), line.unit, showHundredths(line.hundredths)];
    if (!pricing.ok) return [...head, ...used.map(() => ""), "none", ""];
    const { parts, price } = pricing.unit;
    const extension = extend(line.hundredths, price);
    total = cents(total + extension);
    return [...head, ...used.map((part) => money(parts[part])), money(price), money(extension)];
  });
  const table = plainTable(
    [
      right("Item"),
      left("Line"),
      left("Unit"),
      right("Quantity"),
      ...[...used, "unit price", "extension"].map(right),
    ],
    [
      ...rows,
      null,
      ["", areWhole ? "Total" : "Total of the priced lines", "", "", ...used.map(() => ""), "", money(total)],
    ],
  );
  const shared = sharedLumpSums(lines, unitPricesOf(priced));
  // A lump sum that is shared is paid once.
  const again = new Set(shared.flatMap(({ shares }) => shares.slice(1).map(({ line }) => line)));
  const quantities = priced.flatMap(({ quantity }, i) =>
    quantity === null || again.has(i) ? [] : [quantity],
  );
  const rates = sensitivities(book, quantities, minutes, HIGHER).slice(0, MOST_RATES);
  const sensitivity = plainTable(
    [left("10 % more on"), right(`total changes by (${book.currency})`), right("of the total")],
    rates.map(({ rate, change }) => [rate, money(change), showPercent(change / total, 2)]),
  );
  const carried = priced.flatMap(({ quantity, pricing, line }) => {
    if (!pricing.ok || quantity === null) return [];
    const at = breakEvenQuantity(book, quantity.hundredths, pricing.unit);
    return at === null
      ? []
      : [[line.item, wordsOf(line, quantity), showHundredths(line.hundredths), grouped(at, 1)]];
  });
  const breakEven =
    carried.length === 0
      ? "No item has a cost per job, so no quantity is needed to carry one.\n"
      : `${plainTable(
          [right("Item"), left("Line"), right("Quantity"), right("carries its cost per job from")],
          carried,
        )}\n`;
  return (
    `Unit prices in ${book.currency} from: ${book.source}\n` +
    `${showCount(lines.length)} lines; minutes of the crew ${minutes === null ? "from the book" : "from the book, or from the plan where the book says so"}.\n\n` +
    `${table}\n\n${shared.map((each) => `${describeShared(each)}\n`).join("")}` +
    `${shared.length === 0 ? "" : `${NOT_AWARDED}\n\n`}${rates.length === 0 ? "A line has no price, so what a rate changes in the total is not worked out.\n" : `${sensitivity}\n`}\n${breakEven}`
  );
}

function wordsOf({ part, fixed, description }: IssuedLine, quantity: PricedQuantity | null): string {
  const words =
    quantity === null
      ? fixed === null
        ? ""
        : description
      : quantity.variant === ""
        ? quantity.item
        : `${quantity.item}, ${quantity.variant}`;
  return part === "base" ? words : `${words} (${partName(part)})`;
}
