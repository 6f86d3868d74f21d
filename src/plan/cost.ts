import { extend } from "../quantity/money.ts";
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

/** The cost of several works together. */
export const sumCosts = (costs: readonly Cost[]): Cost => ({
  lines: costs.flatMap(({ lines }) => lines),
  total: costs.some(({ total }) => total === null)
    ? null
    : cents(costs.reduce((sum, { total }) => sum + (total ?? 0), 0)),
});

/** Prices the lines of one offer: a price of the variant, else one of the whole item. */
export function priceLines(lines: readonly BidLine[], prices: Readonly<Record<string, Cents>>): Cost {
  let total: number | null = 0;
  const priced = lines.map((line): PricedLine => {
    const unitPrice = priceOf(line, prices);
    const extension = unitPrice === null ? null : extend(line.hundredths, unitPrice);
    total = total === null || extension === null ? null : total + extension;
    return { ...line, unitPrice, extension };
  });
  return { lines: priced, total: total === null ? null : cents(total) };
}

type Prices = Parameters<typeof priceLines>[1];

/** A price of the variant, else one of the whole item; null where there is neither. */
function priceOf({ item, variant }: BidLine, prices: Prices): Cents | null {
  let known = pricesKnown.get(prices);
  if (known === undefined) {
    known = new Map();
    pricesKnown.set(prices, known);
  }
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
const pricesKnown = new WeakMap<Prices, Map<string, Map<string, Cents | null>>>();
const MOST_KNOWN = 4096;
