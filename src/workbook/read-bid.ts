import { amountFromWords } from "../bidding/amount-words.ts";
import {
  type Amount,
  amount,
  type Bid,
  type LineAsRead,
  MISSING,
  type Part,
  type PriceFormula,
} from "../bidding/bid.ts";
import type { Operand } from "../bidding/plain-arithmetic.ts";
import { extend } from "../quantity/money.ts";
import { cents } from "../quantity/si.ts";
import type { FormField } from "./bid-names.ts";
import { bare, cellAt, GREATEST, type IssuedBid, words } from "./issued-bid.ts";
import type { NamedCells } from "./named-cells.ts";
import type { PlainBook, PlainCell } from "./plain-book.ts";
import { WorkedCells } from "./worked-cells.ts";

/** One extension or total of a returned book. */
export interface Figure {
  readonly sheet: string;
  readonly address: string;
  readonly cell: PlainCell | undefined;
  /** Whose word stands in the cell: the formula as issued, one of the bidder's own, or what the bidder typed, be it nothing. */
  readonly holds: "formula as issued" | "own formula" | "typed";
  /** What it adds to a total: by the formula as issued wherever a formula stands. */
  readonly gives: Given;
}

interface ReadPart {
  readonly part: Part;
  readonly prices: readonly Amount[];
  readonly extensions: readonly Figure[];
  readonly total: Figure;
}

/** What the formulas of the issued book make of the prices in a returned one, part by part. */
function readParts(book: PlainBook, issued: IssuedBid): readonly ReadPart[] {
  let before = 0;
  return issued.parts.map(({ part, cells }): ReadPart => {
    const lines = issued.lines.slice(before, before + cells.bid_prices.addresses.length);
    before += lines.length;
    const prices: Amount[] = [];
    const extensions = lines.map(({ hundredths }, i): Figure => {
      const [priceCell, cell] = [cellAt(book, cells.bid_prices, i), cellAt(book, cells.bid_extensions, i)];
      const holds = standsIn(cells.bid_extensions, i, cell);
      const price = readPrice(priceCell, holds === "own formula" ? undefined : cell, hundredths);
      prices.push(price);
      const gives = holds === "typed" ? addedAsTyped(cell) : extensionGives(priceCell, price, hundredths);
      return figure(cells.bid_extensions, i, cell, holds, gives);
    });
    const given = extensions.map(({ gives }) => gives);
    const sum = given.includes("error")
      ? "error"
      : given.reduce<number>((all, each) => all + (typeof each === "number" ? each : 0), 0);
    const cell = cellAt(book, cells.bid_total, 0);
    const total = figure(cells.bid_total, 0, cell, standsIn(cells.bid_total, 0, cell), sum);
    return { part, prices, extensions, total };
  });
}

const figure = (
  { sheet, addresses }: NamedCells,
  i: number,
  cell: PlainCell | undefined,
  holds: Figure["holds"],
  gives: Given,
): Figure => ({ sheet: sheet.name, address: addresses[i]!, cell, holds, gives });

/** The extensions and totals of a returned book. */
export const readFigures = (book: PlainBook, issued: IssuedBid): readonly Figure[] =>
  readParts(book, issued).flatMap(({ extensions, total }) => [...extensions, total]);

function standsIn({ sheet, addresses }: NamedCells, i: number, cell: PlainCell | undefined): Figure["holds"] {
  if (cell?.formula == null) return "typed";
  const issued = sheet.cells.get(addresses[i]!)?.formula ?? null;
  return issued !== null && bare(issued) === bare(cell.formula) ? "formula as issued" : "own formula";
}

/** Whether a formula of the bidder's own was worked out to what the issued one gives. Half a cent off is another amount. */
export function agrees({ cell, gives }: Pick<Figure, "cell" | "gives">): boolean {
  const value = cell?.value ?? null;
  if (gives === "nothing") return value === "";
  return typeof value === "number" && typeof gives === "number" && Math.abs(value * 100 - gives) < OFF;
}

/**
 * The bid in a returned book that {@link differences} has found to be the issued one. An extension or a total with a
 * formula in it is what the issued formula says, whatever the file shows; typed over, it is read as typed.
 */
export function readBid(file: string, book: PlainBook, issued: IssuedBid, additions: readonly string[]): Bid {
  const lines: LineAsRead[] = [];
  const totals = new Map<Part, Amount>();
  const shown: string[] = [];
  const sayIfOff = ({ cell, address, holds, gives }: Figure) => {
    if (holds !== "typed" && contradicts(cell?.value ?? null, gives))
      shown.push(`${address} shows ${cell?.value}, which its formula does not give`);
  };
  const read = readParts(book, issued);
  const worked = new WorkedCells(book, knownCells(read, issued));
  for (const [p, { part, prices, extensions, total }] of read.entries()) {
    const { words: inWords, cells } = issued.parts[p]!;
    for (const [i, extension] of extensions.entries()) {
      const price = prices[i]!;
      sayIfOff(extension);
      const asked = inWords !== null && issued.lines[lines.length]!.fixed === null;
      lines.push({
        price,
        formula: priceFormula(book, cells.bid_prices, i, worked),
        words: asked ? readWords(cellAt(book, inWords, i), issued.currency) : null,
        extension: readExtension(extension, price),
      });
    }
    sayIfOff(total);
    totals.set(part, total.holds === "typed" ? readAmount(total.cell, 100) : amountGiven(total.gives));
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

/** The longest formula that is shown whole. */
const LONGEST_SHOWN = 80;

function priceFormula(
  book: PlainBook,
  prices: NamedCells,
  i: number,
  worked: WorkedCells,
): PriceFormula | null {
  const cell = cellAt(book, prices, i);
  if (cell?.formula == null) return null;
  const text = `=${cell.formula.replace(/\s+/g, " ").trim()}`;
  return {
    text: text.length > LONGEST_SHOWN ? `${text.slice(0, LONGEST_SHOWN)} …` : text,
    shown: cell.value,
    worked: worked.gives(prices.sheet.name, prices.addresses[i]!, cell.formula),
  };
}

/** Cells that hold the formulas as issued: quantities are the owner's, extensions and totals what these formulas give. */
function knownCells(read: readonly ReadPart[], issued: IssuedBid): ReadonlyMap<string, Operand> {
  const known = new Map<string, Operand>();
  for (const [p, { extensions, total }] of read.entries()) {
    const { sheet, addresses } = issued.parts[p]!.cells.bid_quantities;
    for (const address of addresses) {
      const value = sheet.cells.get(address)?.value;
      if (typeof value === "number") known.set(`${sheet.name}!${address}`, value);
    }
    for (const { sheet: name, address, holds, gives } of [...extensions, total])
      if (holds === "formula as issued")
        known.set(
          `${name}!${address}`,
          typeof gives === "number"
            ? gives / 100
            : gives === "error"
              ? { not: `${address} shows an error` }
              : { not: `${address} shows nothing`, isText: true },
        );
  }
  return known;
}

function readExtension({ cell, holds, gives }: Figure, price: Amount): LineAsRead["extension"] {
  const read =
    holds === "typed"
      ? readAmount(cell, 100)
      : price.kind === "amount"
        ? amountGiven(gives)
        : noAmount(gives);
  return read.kind === "unreadable" && typeof gives === "number"
    ? { ...read, gives: Math.round(gives) }
    : read;
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

/** Of an extension with a formula in it, by the issued one: quantity × price, rounded to the cent; of text an error. */
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
