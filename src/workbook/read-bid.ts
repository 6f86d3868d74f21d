import { amountFromWords } from "../bidding/amount-words.ts";
import {
  type Amount,
  amount,
  type Bid,
  type IssuedLine,
  type LineAsRead,
  MISSING,
  type Part,
} from "../bidding/bid.ts";
import type { MobilizationFraction } from "../bidding/mobilization.ts";
import type { UnitSystem } from "../quantity/measure.ts";
import { extend } from "../quantity/money.ts";
import type { Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { type Cents, cents } from "../quantity/si.ts";
import type { BidItems } from "../reference/bid-items.ts";
import {
  awardNames,
  capNames,
  type FormField,
  formFields,
  issueNames,
  type ScheduleName,
  scheduleNames,
  TOTAL_IN_WORDS,
  TOTALS_WRITTEN,
  WORDS,
} from "./bid-names.ts";
import { itemNumber, systemOfUnit } from "./bid-schedule.ts";
import { ALLOWANCE_UNIT } from "./bid-schedule-sheet.ts";
import { type NamedCells, namedCells } from "./named-cells.ts";
import type { PlainBook, PlainCell } from "./plain-book.ts";
import { type Opened, opened, Unreadable } from "./unreadable.ts";

/** What was issued, as its workbook says: the lines, and where the bidder's cells are. */
export interface IssuedBid {
  readonly number: number;
  /** The mark of the content. */
  readonly content: string;
  readonly addenda: number;
  /** As the heading over the prices says. */
  readonly currency: string;
  /** The system that its lines are measured in. */
  readonly units: UnitSystem;
  readonly lines: readonly IssuedLine[];
  readonly parts: readonly SchedulePart[];
  /** On the form: totals of the base bid with none, one … of the alternates. */
  readonly awards: { readonly totals: NamedCells; readonly words: NamedCells } | null;
  readonly form: Readonly<Record<FormField, NamedCells>>;
  /** On the form: the totals in the bidder's own words, part by part; null where the book does not ask for them. */
  readonly totalsWritten: NamedCells | null;
}

/** One table of lines to be priced, with the addresses of its columns. */
export interface SchedulePart {
  readonly part: Part;
  readonly cells: Readonly<Record<ScheduleName, NamedCells>>;
  /** Unit prices in words; null where the book does not ask for them. */
  readonly words: NamedCells | null;
  readonly totalInWords: NamedCells | null;
  /** Where the book works out what mobilization may come to. */
  readonly cap: CapCells | null;
}

interface CapCells {
  readonly most: NamedCells;
  readonly over: NamedCells;
  /** As the formula of the book has it. */
  readonly fraction: MobilizationFraction;
}

/** Reads the issue from a bid book, empty or priced. */
export const readIssued = (file: string, book: PlainBook, items: BidItems): Opened<IssuedBid> =>
  opened(file, () => {
    const parts = partsOf(book);
    const lines = parts.flatMap((part) => linesOf(part, items));
    return {
      number: whole(book, issueNames.number),
      content: words(one(book, issueNames.content)) ?? notABid(issueNames.content),
      addenda: whole(book, issueNames.addenda),
      currency: currencyOf(parts[0]!),
      units: unitsOf(lines),
      parts,
      awards: awardsOf(book, parts.length),
      totalsWritten: ofLength(namedCells(book, TOTALS_WRITTEN), parts.length),
      lines,
      form: Object.fromEntries(
        Object.entries(formFields).map(([field, { name }]) => [field, cellsNamed(book, name)]),
      ) as Record<FormField, NamedCells>,
    };
  });

/** `USD` of the heading `Unit price (USD)`, over the first price. */
function currencyOf({ cells: { bid_prices: prices } }: SchedulePart): string {
  const [, column = "", row = ""] = /^([A-Z]+)(\d+)$/.exec(prices.addresses[0]!) ?? [];
  const heading = String(prices.sheet.cells.get(`${column}${Number(row) - 1}`)?.value ?? "");
  return /\(([A-Z]{3})\)/.exec(heading)?.[1] ?? notABid("bid_prices under a heading with a currency");
}

/** Every bid has a lump sum, which either system writes in its own way. */
const unitsOf = (lines: readonly IssuedLine[]): UnitSystem =>
  lines.map(({ unit }) => systemOfUnit(unit)).find((system) => system !== null) ??
  notABid("bid_units in the units of a bid book");

function notABid(name: string): never {
  throw new Unreadable(
    `no cells by the name ${name}`,
    "a bid book of this program, with its names of cells",
    "Price the bid book that was issued, and save it as xlsx.",
  );
}

const cellsNamed = (book: PlainBook, name: string): NamedCells => namedCells(book, name) ?? notABid(name);

function awardsOf(book: PlainBook, parts: number): IssuedBid["awards"] {
  const [totals, words] = [namedCells(book, awardNames.totals), namedCells(book, awardNames.words)];
  return totals?.addresses.length === parts && words?.addresses.length === parts ? { totals, words } : null;
}

const ofLength = (cells: NamedCells | null, length: number): NamedCells | null =>
  cells?.addresses.length === length ? cells : null;

function capOf(book: PlainBook, suffix: string): CapCells | null {
  const [most, over] = [namedCells(book, capNames.most + suffix), namedCells(book, capNames.over + suffix)];
  const formula = most?.sheet.cells.get(most.addresses[0]!)?.formula?.replace(/\s/g, "") ?? "";
  const fraction = /\*(\d{1,7})\/([1-9]\d{0,6})\)\/100$/.exec(formula);
  if (most === null || over === null || fraction === null) return null;
  return { most, over, fraction: { of: Number(fraction[1]), over: Number(fraction[2]) } };
}

const oneCell: ReadonlySet<string> = new Set(["bid_total", "bid_unpriced"]);

function partsOf(book: PlainBook): readonly SchedulePart[] {
  const suffixes = [...book.names.keys()].flatMap((name) => {
    const alternate = /^bid_prices_alternate_([1-9]\d?)$/.exec(name)?.[1];
    return alternate === undefined ? [] : [Number(alternate)];
  });
  const parts: readonly Part[] = ["base", ...suffixes.sort((a, b) => a - b)];
  return parts.map((part) => {
    const suffix = part === "base" ? "" : `_alternate_${part}`;
    const cells = Object.fromEntries(
      scheduleNames.map((name) => [name, cellsNamed(book, name + suffix)]),
    ) as Record<ScheduleName, NamedCells>;
    const rows = cells.bid_prices.addresses.length;
    const uneven = scheduleNames.find(
      (name) => cells[name].addresses.length !== (oneCell.has(name) ? 1 : rows),
    );
    if (uneven !== undefined)
      throw new Unreadable(
        `${uneven}${suffix} of another length`,
        `${showCount(rows)} rows`,
        "Price the book that was issued.",
      );
    const words = namedCells(book, WORDS + suffix);
    return {
      part,
      cells,
      words: ofLength(words, rows),
      totalInWords: namedCells(book, TOTAL_IN_WORDS + suffix),
      cap: capOf(book, suffix),
    };
  });
}

/** How a lump sum is written as a unit, in the programs of either system. */
const LUMP_SUM: ReadonlySet<string> = new Set(["LS", "lump sum"]);

function linesOf({ part, cells }: SchedulePart, { items }: BidItems): readonly IssuedLine[] {
  const value = (name: ScheduleName, i: number): PlainCell["value"] =>
    cells[name].sheet.cells.get(cells[name].addresses[i]!)?.value ?? null;
  return cells.bid_prices.addresses.map((address, i) => {
    const [number, quantity] = [value("bid_items", i), value("bid_quantities", i)];
    const hundredths = typeof quantity === "number" ? Math.round(quantity * 100) : Number.NaN;
    const unit = String(value("bid_units", i) ?? "");
    if (number === null && unit === "" && quantity === null)
      throw new Unreadable(
        `row ${/\d+$/.exec(address)?.[0]} between the lines, with no item, unit or quantity`,
        "the lines as issued",
        "That row is not in the book as issued: ask for prices in the book as it was.",
      );
    if (!(hundredths >= 0 && hundredths < 1e12) || number === null || unit === "")
      throw new Unreadable(
        `no item, unit or quantity beside ${address}`,
        "a line as issued",
        "Open the book in a spreadsheet, let it recalculate, and save it again.",
      );
    const key =
      typeof number === "number" ? items.find((each) => each.number === Math.floor(number))?.key : undefined;
    return {
      item: typeof number === "number" ? itemNumber(number) : String(number),
      description: String(value("bid_wordings", i) ?? ""),
      unit,
      hundredths,
      part,
      role: unit === ALLOWANCE_UNIT ? "allowance" : key === "mobilization" ? "mobilization" : "work",
      lumpSum: LUMP_SUM.has(unit) || unit === ALLOWANCE_UNIT,
      fixed: unit === ALLOWANCE_UNIT ? fixedAmount(value("bid_prices", i), address) : null,
    };
  });
}

function fixedAmount(value: PlainCell["value"], address: string): Cents {
  const found = typeof value === "number" ? Math.round(value * 100) : Number.NaN;
  if (found > 0 && found <= GREATEST) return cents(found);
  throw new Unreadable(
    `no amount of the owner in ${address}`,
    "an allowance as issued",
    "Price the book that was issued.",
  );
}

/**
 * The bid in a returned book that {@link differences} has found to be the issued one. An extension or a total whose
 * formula stands is what the formula says, whatever the file shows; typed over, it is read as typed.
 */
export function readBid(file: string, book: PlainBook, issued: IssuedBid, additions: readonly string[]): Bid {
  const lines: LineAsRead[] = [];
  const totals = new Map<Part, Amount>();
  const shown: string[] = [];
  for (const { part, cells, words: inWords } of issued.parts) {
    const at = (name: ScheduleName, i: number) => cellAt(book, cells[name], i);
    /** Cents, as the formulas of the book work them out. */
    const given: Given[] = [];
    const own = cells.bid_prices.addresses.map((address, i): LineAsRead => {
      const { hundredths, fixed } = issued.lines[lines.length + i]!;
      const priceCell = at("bid_prices", i);
      const cell = at("bid_extensions", i);
      const price = readPrice(priceCell, cell, hundredths);
      const typed = isTypedOver(cells.bid_extensions, i, cell);
      const gives = typed ? addedAsTyped(cell) : extensionGives(priceCell, price, hundredths);
      given.push(gives);
      if (!typed && contradicts(cell?.value ?? null, gives))
        shown.push(
          `${cells.bid_extensions.addresses[i] ?? address} shows ${cell?.value}, which its formula does not give`,
        );
      const extension = typed
        ? readAmount(cell, 100)
        : price.kind === "amount"
          ? amountGiven(gives)
          : noAmount(gives);
      return {
        price,
        words:
          inWords === null || fixed !== null ? null : readWords(cellAt(book, inWords, i), issued.currency),
        extension:
          extension.kind === "unreadable" && typeof gives === "number"
            ? { ...extension, gives: Math.round(gives) }
            : extension,
      };
    });
    lines.push(...own);
    const total = at("bid_total", 0);
    const sum = given.includes("error")
      ? "error"
      : given.reduce<number>((all, each) => all + (typeof each === "number" ? each : 0), 0);
    const typedTotal = isTypedOver(cells.bid_total, 0, total);
    if (!typedTotal && contradicts(total?.value ?? null, sum))
      shown.push(`${cells.bid_total.addresses[0]} shows ${total?.value}, which its formula does not give`);
    totals.set(part, typedTotal ? readAmount(total, 100) : amountGiven(sum));
  }
  const { totalsWritten } = issued;
  const totalWords = new Map<Part, Amount>(
    totalsWritten === null
      ? []
      : issued.parts.map(({ part }, p) => [part, readWords(cellAt(book, totalsWritten, p), issued.currency)]),
  );
  const field = (key: FormField) => words(cellAt(book, issued.form[key], 0));
  const form = {
    bidder: field("bidder"),
    signedBy: field("signedBy"),
    signature: field("signature"),
    date: field("date"),
    security: field("security"),
    addenda: field("addenda"),
  };
  return {
    name: form.bidder ?? file,
    file,
    lines,
    totals,
    totalWords,
    form,
    additions: [...additions, ...shown],
  };
}

/** Whether something else than the formula of the issued book stands in its cell: a figure, or a formula of the bidder's own. */
function isTypedOver({ sheet, addresses }: NamedCells, i: number, cell: PlainCell | undefined): boolean {
  const issued = sheet.cells.get(addresses[i]!)?.formula ?? null;
  return cell?.formula == null || (issued !== null && bare(issued) !== bare(cell.formula));
}

/** Thousands marked by commas; in another country 4,100 is 4.1. */
const GROUPED = /^\s*\d{1,3}(,\d{3})+(\.\d{1,2})?\s*$/;

/** A unit price. Text such as `4,100` is one where the book's own formula took it for that: the extension shows which amount it is. */
function readPrice(
  cell: PlainCell | undefined,
  extension: PlainCell | undefined,
  hundredths: number,
): Amount {
  const read = readAmount(cell, hundredths);
  const text = cell?.value;
  if (read.kind !== "unreadable" || typeof text !== "string" || !GROUPED.test(text)) return read;
  const meant = readAmount({ formula: null, value: text.replaceAll(",", "") }, hundredths);
  if (meant.kind !== "amount" || typeof extension?.value !== "number") return read;
  return contradicts(extension.value, extend(hundredths, meant.cents)) ? read : meant;
}

/** What a formula of the book comes to: cents, an error, or nothing where its cell is empty. */
type Given = number | "error" | "nothing";

/** Of an extension whose formula stands: quantity × price, rounded to the cent; of text an error. */
function extensionGives(cell: PlainCell | undefined, price: Amount, hundredths: number): Given {
  if (price.kind === "amount") return extend(hundredths, price.cents);
  const value = cell?.value ?? "";
  if (value === "") return "nothing";
  if (typeof value === "string") return "error";
  const product = hundredths * Number(value);
  return Math.sign(product) * Math.floor(Math.abs(product) + 0.5 + OFF);
}

/** Of an extension that was typed: a sum takes numbers, leaves text out, and passes errors on. */
function addedAsTyped(cell: PlainCell | undefined): Given {
  const value = cell?.value ?? null;
  if (typeof value === "number") return value * 100;
  return typeof value === "string" && ERROR.test(value) ? "error" : "nothing";
}

/** `#VALUE!`, `#DIV/0!`, `#NAME?`, `#N/A`. */
const ERROR = /^#[A-Z0-9/]+[!?]?$/;

function amountGiven(given: Given): Amount {
  const exact = typeof given === "number" ? Math.round(given) : Number.NaN;
  return exact >= 0 && exact <= GREATEST ? amount(cents(exact)) : noAmount(given);
}

/** What a formula shows where it is nothing to go by, whatever its figure: of a price that is none, or below nothing. */
function noAmount(given: Given): Amount {
  if (given === "nothing") return MISSING;
  return { kind: "unreadable", text: given === "error" ? "#VALUE!" : (given / 100).toFixed(2).slice(0, 40) };
}

/** Whether a cell shows what its formula does not give. One that was never worked out shows nothing. */
function contradicts(value: PlainCell["value"], given: Given): boolean {
  if (typeof value === "string") return typeof given === "number" && ERROR.test(value);
  if (typeof value !== "number") return false;
  return typeof given !== "number" || Math.abs(value * 100 - given) >= 0.5 + 1e-12 * Math.abs(given);
}

/** Ten billion: beyond it nothing is a bid, and a double no longer adds up every cent. */
const GREATEST: Cents = cents(1e12);
/** What a spreadsheet's binary numbers may be off from a decimal of cents. */
const OFF = 1e-5;

/** An amount in a cell, for a line of this quantity. */
function readAmount(cell: PlainCell | undefined, hundredths: number): Amount {
  const value = cell?.value ?? null;
  if (value === null || (typeof value === "string" && value.trim() === "")) return MISSING;
  const number =
    typeof value === "string" && /^\s*\d{1,12}(\.\d{1,2})?\s*$/.test(value) ? Number(value) : value;
  if (typeof number === "number") {
    const exact = Math.round(number * 100);
    const fits = exact >= 0 && exact <= GREATEST && Number.isSafeInteger(exact * hundredths + 50);
    if (fits && Math.abs(number * 100 - exact) < OFF) return amount(cents(exact));
  }
  return { kind: "unreadable", text: String(value).slice(0, 40) };
}

function readWords(cell: PlainCell | undefined, currency: string): Amount {
  const written = words(cell);
  if (written === null) return MISSING;
  const found = amountFromWords(written, currency);
  return found === null || found > GREATEST
    ? { kind: "unreadable", text: written.slice(0, 80) }
    : amount(found);
}

/** The cell of the returned book where the issued one has its. */
const cellAt = (book: PlainBook, { sheet, addresses }: NamedCells, i: number): PlainCell | undefined =>
  book.sheets.find(({ name }) => name === sheet.name)?.cells.get(addresses[i]!);

const one = (book: PlainBook, name: string): PlainCell | undefined => cellAt(book, cellsNamed(book, name), 0);

function whole(book: PlainBook, name: string): number {
  const value = one(book, name)?.value;
  return typeof value === "number" && Number.isInteger(value) && value >= 0 ? value : notABid(name);
}

function words(cell: PlainCell | undefined): string | null {
  const text = String(cell?.value ?? "").trim();
  return text === "" ? null : text;
}

export interface Differences {
  /** Why the book cannot be compared. */
  readonly problems: readonly Problem[];
  /** What was added to it, for people to read: it may be a condition. */
  readonly additions: readonly string[];
}

/** More than these are counted, not listed. */
const MOST_LISTED = 5;

/**
 * What a returned book has that the issued one has not, cell by cell: wording, units, quantities, formulas. The bidder's
 * own cells are free; an extension or total may be typed over, which the correction of the bid then looks at.
 */
export function differences(
  file: string,
  issued: PlainBook,
  mark: IssuedBid,
  returned: PlainBook,
): Differences {
  const problems: Problem[] = [];
  const additions: string[] = [];
  let count = 0;
  const differ = (place: string, found: string, expected: string) => {
    if (++count > MOST_LISTED) return;
    const remedy = "The book is not compared. Ask for prices in the book as it was issued.";
    problems.push({
      severity: "rejected",
      file: `${file}, ${place}`,
      row: null,
      column: null,
      found,
      expected,
      remedy,
    });
  };
  const [free, figures] = bidderCells(mark);
  for (const sheet of issued.sheets) {
    const own = returned.sheets.find(({ name }) => name === sheet.name);
    if (own === undefined) {
      differ(sheet.name, "no such sheet", "the sheet as issued");
      continue;
    }
    for (const [address, cell] of sheet.cells) {
      const key = `${sheet.name}!${address}`;
      const found = own.cells.get(address);
      if (free.has(key) || (figures.has(key) && (found === undefined || found.formula === null))) continue;
      if (figures.has(key) && found?.formula != null) {
        if (!sameCell(cell, found))
          additions.push(
            `${sheet.name}, cell ${address}: ${shown(found).slice(0, 80)}, in place of its formula`,
          );
        continue;
      }
      if (!sameCell(cell, found)) differ(`${sheet.name}, cell ${address}`, shown(found), shown(cell));
    }
    for (const [address, cell] of own.cells)
      if (!sheet.cells.has(address) && !free.has(`${sheet.name}!${address}`) && shown(cell).trim() !== "")
        additions.push(`${sheet.name}, cell ${address}: ${shown(cell).slice(0, 80)}`);
  }
  for (const { name, hidden } of returned.sheets)
    if (!issued.sheets.some((sheet) => sheet.name === name))
      additions.push(`sheet ${JSON.stringify(name.slice(0, 40))} added${hidden ? ", hidden" : ""}`);
  if (count > MOST_LISTED)
    problems.push({
      severity: "rejected",
      file,
      row: null,
      column: null,
      found: `${showCount(count)} cells other than issued`,
      expected: "the book as issued",
      remedy: "The first of them are listed.",
    });
  const most = additions.slice(0, MOST_LISTED * 2);
  return {
    problems,
    additions:
      additions.length > most.length ? [...most, `${showCount(additions.length - most.length)} more`] : most,
  };
}

/** Cells that are the bidder's, and cells whose formula a bidder may type over. */
function bidderCells({
  parts,
  form,
  lines,
  totalsWritten,
}: IssuedBid): readonly [ReadonlySet<string>, ReadonlySet<string>] {
  const keys = (cells: readonly NamedCells[]) =>
    new Set(cells.flatMap(({ sheet, addresses }) => addresses.map((address) => `${sheet.name}!${address}`)));
  let before = 0;
  // An allowance is the owner's, and stays as printed.
  const own = parts.flatMap(({ cells: { bid_prices: prices }, words: inWords }): NamedCells[] => {
    const from = before;
    before += prices.addresses.length;
    const open = (cells: NamedCells): NamedCells => ({
      ...cells,
      addresses: cells.addresses.filter((_, i) => lines[from + i]!.fixed === null),
    });
    return inWords === null ? [open(prices)] : [open(prices), open(inWords)];
  });
  return [
    keys([...own, ...Object.values(form), ...(totalsWritten === null ? [] : [totalsWritten])]),
    keys(parts.flatMap(({ cells }) => [cells.bid_extensions, cells.bid_total])),
  ];
}

function sameCell(issued: PlainCell, found: PlainCell | undefined): boolean {
  if (found === undefined) return shown(issued).trim() === "";
  if (issued.formula !== null || found.formula !== null)
    return issued.formula !== null && found.formula !== null && bare(issued.formula) === bare(found.formula);
  const [a, b] = [issued.value, found.value];
  if (typeof a === "number" && typeof b === "number")
    return Math.abs(a - b) <= 1e-12 * Math.max(1, Math.abs(a));
  return typeof a === typeof b && spaced(String(a)) === spaced(String(b));
}

/** Programs write the same formula with other spaces, capitals and quotes. */
const bare = (formula: string): string => formula.replace(/[\s']/g, "").toUpperCase();
const spaced = (text: string): string => text.replace(/\s+/g, " ").trim();

const shown = (cell: PlainCell | undefined): string =>
  cell === undefined ? "nothing" : cell.formula === null ? String(cell.value ?? "") : `=${cell.formula}`;
