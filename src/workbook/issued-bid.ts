import type { IssuedLine, Part } from "../bidding/bid.ts";
import type { MobilizationFraction } from "../bidding/mobilization.ts";
import type { UnitSystem } from "../quantity/measure.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { type Cents, cents } from "../quantity/si.ts";
import type { BidItems } from "../reference/bid-items.ts";
import { ALLOWANCE_UNIT } from "./allowances.ts";
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

/** Ten billion: beyond it nothing is a bid, and a double no longer adds up every cent. */
export const GREATEST: Cents = cents(1e12);

/** The cell of the returned book where the issued one has its. */
export const cellAt = (book: PlainBook, { sheet, addresses }: NamedCells, i: number): PlainCell | undefined =>
  book.sheets.find(({ name }) => name === sheet.name)?.cells.get(addresses[i]!);

const one = (book: PlainBook, name: string): PlainCell | undefined => cellAt(book, cellsNamed(book, name), 0);

function whole(book: PlainBook, name: string): number {
  const value = one(book, name)?.value;
  return typeof value === "number" && Number.isInteger(value) && value >= 0 ? value : notABid(name);
}

/** What a cell says, without the spaces around it; null where it says nothing. */
export function words(cell: PlainCell | undefined): string | null {
  const text = String(cell?.value ?? "").trim();
  return text === "" ? null : text;
}

/** Programs write the same formula with other spaces, capitals and quotes. */
export const bare = (formula: string): string => formula.replace(/[\s']/g, "").toUpperCase();
