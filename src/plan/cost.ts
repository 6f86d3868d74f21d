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

type Prices = Readonly<Record<string, Cents>>;

/** Prices the lines of one work: a price of the variant, else one of the whole item. */
export const priceLines = (lines: readonly BidLine[], prices: Prices): Cost => new PricedLines(lines, prices);

/** Of most offers only the total is ever asked: lines with their prices are put together when somebody wants to see them. */
class PricedLines implements Cost {
  readonly total: Cents | null;
  readonly #measured: readonly BidLine[];
  readonly #prices: Prices;
  #lines: readonly PricedLine[] | null = null;

  constructor(measured: readonly BidLine[], prices: Prices) {
    this.#measured = measured;
    this.#prices = prices;
    this.total = totalOf(measured, prices);
  }

  get lines(): readonly PricedLine[] {
    this.#lines ??= this.#measured.map((line) => priceLine(line, this.#prices));
    return this.#lines;
  }
}

/** The cost of several works together. */
export const sumCosts = (costs: readonly Cost[]): Cost =>
  costs.length === 1 ? costs[0]! : new CostOfWorks(costs);

class CostOfWorks implements Cost {
  readonly total: Cents | null;
  readonly #costs: readonly Cost[];
  #lines: readonly PricedLine[] | null = null;

  constructor(costs: readonly Cost[]) {
    this.#costs = costs;
    let total: number | null = 0;
    for (const cost of costs) total = total === null || cost.total === null ? null : total + cost.total;
    this.total = total === null ? null : cents(total);
  }

  get lines(): readonly PricedLine[] {
    this.#lines ??= this.#costs.flatMap(({ lines }) => lines);
    return this.#lines;
  }
}

function priceLine(line: BidLine, prices: Prices): PricedLine {
  const { item, variant, hundredths } = line;
  const unitPrice = priceOf(line, prices);
  return { item, variant, hundredths, unitPrice, extension: extensionOf(line, unitPrice) };
}

function totalOf(lines: readonly BidLine[], prices: Prices): Cents | null {
  let total = 0;
  for (const line of lines) {
    const extension = extensionOf(line, priceOf(line, prices));
    if (extension === null) return null;
    total += extension;
  }
  return cents(total);
}

const extensionOf = ({ hundredths }: BidLine, unitPrice: Cents | null): Cents | null =>
  unitPrice === null ? null : extend(hundredths, unitPrice);

/** Null where neither the variant nor the item has one. */
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
