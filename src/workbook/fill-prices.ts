import { extend } from "../quantity/money.ts";
import type { Cents } from "../quantity/si.ts";
import type { NamedCells } from "./named-cells.ts";
import type { PlainBook } from "./plain-book.ts";
import type { IssuedBid } from "./read-bid.ts";
import { setCells } from "./set-cells.ts";
import { type Opened, opened } from "./unreadable.ts";
import { unpack, writeZip } from "./zip-file.ts";

/**
 * The city's own book with prices in its price cells; all else in the file stays as it is, byte for byte within its
 * members. Extensions and totals keep their formulas and show what these give, for programs that do not recalculate.
 *
 * @param prices in the order of the lines; a line without one is left as it is
 */
export function fillPrices(
  file: string,
  book: PlainBook,
  issued: IssuedBid,
  prices: readonly (Cents | null)[],
): Opened<Buffer> {
  const bySheet = new Map<string, Map<string, string>>();
  const set = ({ sheet, addresses }: NamedCells, i: number, value: string) => {
    const values = bySheet.get(sheet.member) ?? new Map<string, string>();
    bySheet.set(sheet.member, values.set(addresses[i]!, value));
  };
  let line = 0;
  for (const { cells } of issued.parts) {
    let [total, unpriced] = [0, 0];
    for (const i of cells.bid_prices.addresses.keys()) {
      const price = prices[line] ?? null;
      const { hundredths } = issued.lines[line++]!;
      if (price === null) {
        unpriced++;
        continue;
      }
      const extension = extend(hundredths, price);
      total += extension;
      set(cells.bid_prices, i, decimal(price));
      set(cells.bid_extensions, i, decimal(extension));
    }
    set(cells.bid_total, 0, decimal(total));
    set(cells.bid_unpriced, 0, String(unpriced));
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

/** Whole cents as a decimal, without a binary fraction on the way. */
const decimal = (amount: number): string =>
  `${Math.floor(amount / 100)}.${String(amount % 100).padStart(2, "0")}`;
