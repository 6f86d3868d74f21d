import { extend } from "../quantity/money.ts";
import { onceFor } from "../quantity/once-for.ts";
import { type Cents, cents } from "../quantity/si.ts";
import { type BidLine, bidLineKey } from "./bid-lines.ts";

/** A bid line at its unit price; nulls where the program has no price for it. */
export interface PricedLine extends BidLine {
  readonly unitPrice: Cents | null;
  readonly extension: Cents | null;
}

export interface Cost {
  readonly lines: readonly PricedLine[];
  /** Null when any line has no price: a partial sum would look like a cost. */
  readonly total: Cents | null;
}

type Prices = Readonly<Record<string, Cents>>;

/** Prices the lines of one work: a price of the variant, else one of the whole item. */
export function priceLines(lines: readonly BidLine[], prices: Prices): Cost {
  const priced: PricedLine[] = [];
  let total: number | null = 0;
  for (const line of lines) {
    const { item, variant, hundredths } = line;
    const unitPrice = priceOf(line, prices);
    const extension = unitPrice === null ? null : extend(hundredths, unitPrice);
    priced.push({ item, variant, hundredths, unitPrice, extension });
    total = total === null || extension === null ? null : total + extension;
  }
  return { lines: priced, total: total === null ? null : cents(total) };
}

/** The cost of several works together. */
export function sumCosts(works: readonly { readonly priced: Cost }[]): Cost {
  if (works.length === 0) return NO_COST;
  if (works.length === 1) return works[0]!.priced;
  const lines: PricedLine[] = [];
  let total: number | null = 0;
  for (const { priced } of works) {
    for (const line of priced.lines) lines.push(line);
    total = total === null || priced.total === null ? null : total + priced.total;
  }
  return { lines, total: total === null ? null : cents(total) };
}

const NO_COST: Cost = { lines: [], total: cents(0) };

/** Null where neither the variant nor the item has one. */
function priceOf({ item, variant }: BidLine, prices: Prices): Cents | null {
  const known = pricesKnown(prices);
  let ofItem = known.get(item);
  if (ofItem === undefined) {
    ofItem = new Map();
    known.set(item, ofItem);
  }
  let price = ofItem.get(variant);
  if (price === undefined) {
    price = prices[bidLineKey({ item, variant })] ?? prices[item] ?? null;
    if (ofItem.size === MOST_KNOWN) ofItem.clear();
    ofItem.set(variant, price);
  }
  return price;
}

/** By item and variant: a key put together for each line and looked up as a property took a twentieth of the plan's time. */
const pricesKnown = onceFor((_: Prices) => new Map<string, Map<string, Cents | null>>());
const MOST_KNOWN = 4096;
