import { amountInWords } from "../bidding/amount-words.ts";
import { fractionOf } from "../bidding/mobilization.ts";
import { extend } from "../quantity/money.ts";
import { type Cents, cents } from "../quantity/si.ts";
import type { IssuedBid } from "./issued-bid.ts";
import type { NamedCells } from "./named-cells.ts";
import type { PlainBook, PlainCell } from "./plain-book.ts";
import { type CellValue, setCells, type Words } from "./set-cells.ts";
import { type Opened, opened } from "./unreadable.ts";
import { unpack, writeZip } from "./zip-file.ts";

/**
 * The city's own book with prices in its price cells; all else in the file stays as it is, byte for byte within its
 * members. Extensions and totals keep their formulas and show what these give, for programs that do not recalculate.
 *
 * @param prices in the order of the lines; of a line without one the cell is emptied: what stood there is of another pricing
 */
export function fillPrices(
  file: string,
  book: PlainBook,
  issued: IssuedBid,
  prices: readonly (Cents | null)[],
): Opened<Buffer> {
  const { currency } = issued;
  const bySheet = new Map<string, Map<string, CellValue>>();
  const set = (cells: NamedCells | null, i: number, value: CellValue) => {
    if (cells === null) return;
    const values = bySheet.get(cells.sheet.member) ?? new Map<string, CellValue>();
    bySheet.set(cells.sheet.member, values.set(cells.addresses[i]!, value));
  };
  // Of what holds nothing there is nothing to empty: a spreadsheet may have dropped the cell.
  const empty = (cells: NamedCells | null, i: number, value: CellValue) => {
    if (cells?.sheet.cells.has(cells.addresses[i]!) === true) set(cells, i, value);
  };
  const inWords = (amount: Cents): Words => ({ words: amountInWords(amount, currency) });
  let line = 0;
  let awarded = cents(0);
  for (const [p, { cells, words, totalInWords, cap }] of issued.parts.entries()) {
    let [total, unpriced, mobilization, allowances] = [0, 0, 0, 0];
    for (const i of cells.bid_prices.addresses.keys()) {
      const { hundredths, fixed, role } = issued.lines[line]!;
      const price = fixed ?? prices[line] ?? null;
      line++;
      if (price === null) {
        unpriced++;
        empty(cells.bid_prices, i, EMPTY);
        empty(words, i, EMPTY);
        empty(cells.bid_extensions, i, NOTHING);
        continue;
      }
      const extension = extend(hundredths, price);
      total += extension;
      if (role === "mobilization") mobilization += extension;
      if (role === "allowance") allowances += extension;
      if (fixed !== null) continue;
      set(cells.bid_prices, i, { typed: decimal(price) });
      set(words, i, inWords(price));
      set(cells.bid_extensions, i, decimal(extension));
    }
    set(cells.bid_total, 0, decimal(total));
    set(cells.bid_unpriced, 0, String(unpriced));
    set(totalInWords, 0, { words: `Total in words: ${amountInWords(cents(total), currency)}` });
    // A total over lines without a price is no bid that anybody should sign in words.
    if (unpriced === 0) set(issued.totalsWritten, p, inWords(cents(total)));
    else empty(issued.totalsWritten, p, EMPTY);
    awarded = cents(awarded + total);
    set(issued.awards?.totals ?? null, p, decimal(awarded));
    set(issued.awards?.words ?? null, p, inWords(awarded));
    if (cap !== null) {
      const most = fractionOf(cents(total - mobilization - allowances), cap.fraction);
      set(cap.most, 0, decimal(most));
      set(cap.over, 0, decimal(Math.max(0, mobilization - most)));
    }
  }
  return opened(file, () => {
    const replaced = new Map<string, Buffer>();
    for (const [name, values] of bySheet) {
      const member = book.members.find((each) => each.name === name)!;
      replaced.set(name, Buffer.from(setCells(unpack(member).toString("utf8"), values)));
    }
    return writeZip(book.members, replaced);
  });
}

/** What stands in the price cells, in the order of the lines; null in an empty one. */
export const pricesStanding = ({ parts }: IssuedBid): readonly PlainCell["value"][] =>
  parts.flatMap(({ cells: { bid_prices: prices } }) =>
    prices.addresses.map((address) => prices.sheet.cells.get(address)?.value ?? null),
  );

const EMPTY: CellValue = { typed: null };
/** What the formulas show of a line without a price. */
const NOTHING: Words = { words: "" };

/** Whole cents as a decimal, without a binary fraction on the way. */
const decimal = (amount: number): string =>
  `${Math.floor(amount / 100)}.${String(amount % 100).padStart(2, "0")}`;
