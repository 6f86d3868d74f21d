import { extend } from "../quantity/money.ts";
import { type Cents, cents } from "../quantity/si.ts";
import { wholeParts } from "../quantity/whole-parts.ts";
import type { BidItemKey } from "../reference/bid-items.ts";
import type { CostBook, UnitCosts } from "./cost-book.ts";

/** A line to be priced. */
export interface PricedQuantity {
  readonly item: BidItemKey;
  /** Size or surface; "" for an item without. */
  readonly variant: string;
  readonly hundredths: number;
  /** Of all sizes of the item together: what a cost per job of the item is spread over. */
  readonly itemHundredths: number;
}

export const costParts = [
  "labour",
  "equipment",
  "materials",
  "subcontract",
  "per job",
  "contingency",
  "overhead",
  "profit",
  "bonds",
  "insurance",
] as const;
export type CostPart = (typeof costParts)[number];

/** A unit price with what is in it, each part in whole cents: they add up to the price. */
export interface UnitPrice {
  readonly price: Cents;
  readonly parts: Readonly<Record<CostPart, Cents>>;
}

export type Pricing =
  | { readonly ok: true; readonly unit: UnitPrice }
  /** Why the book gives no price for the line. */
  | { readonly ok: false; readonly because: string };

/**
 * The unit price of a line.
 *
 *   direct  = minutes/60 · Σ rates + Σ quantity · (1 + waste) · price + subcontract + per job / quantity
 *   work    = direct · (1 + contingency) · (1 + overhead) · (1 + profit)
 *   price   = work / (1 − bonds − insurance)
 *
 * Bonds and insurance are paid on the contract amount, so they are parts of the price and not of the work. Common
 * practice, no published source. Each part is rounded to the cent, half up, and the price is their sum.
 *
 * @param planMinutes minutes for a unit by item, where a plan is at hand
 */
export function priceUnit(
  book: CostBook,
  { item, variant, hundredths, itemHundredths }: PricedQuantity,
  planMinutes: ReadonlyMap<BidItemKey, number> | null,
): Pricing {
  const own = book.items[item];
  if (own === undefined)
    return { ok: false, because: `the cost book has no ${JSON.stringify(item)} under "items"` };
  const size = own.sizes?.[variant];
  if (own.sizes !== undefined && size === undefined)
    return {
      ok: false,
      because: `the cost book has no size ${JSON.stringify(variant)} of ${JSON.stringify(item)}`,
    };
  const costs: UnitCosts = { ...own, ...size };
  const minutes = costs.minutes === "plan" ? planMinutes?.get(item) : costs.minutes;
  if (costs.minutes === "plan" && minutes === undefined)
    return {
      ok: false,
      because: `the minutes of ${JSON.stringify(item)} are the plan's, and there is no plan of it here`,
    };
  const spreadOver = size?.perJob === undefined ? itemHundredths : hundredths;
  if (costs.perJob !== undefined && spreadOver === 0)
    return {
      ok: false,
      because: `the cost per job of ${JSON.stringify(item)} has no quantity to be spread over`,
    };
  const unit = unitOf(book, costs, minutes ?? 0, spreadOver);
  if (!Number.isSafeInteger(unit.price))
    return {
      ok: false,
      because: `the costs of ${JSON.stringify(item)} come to more than money is counted to`,
    };
  return { ok: true, unit };
}

function unitOf(book: CostBook, costs: UnitCosts, minutes: number, spreadOver: number): UnitPrice {
  const hours = minutes / 60;
  const crew = costs.crew === undefined ? null : entry(book.crews, costs.crew);
  const labour = crew === null ? 0 : hours * weighted(crew.people, (role) => entry(book.roles, role));
  const equipment =
    crew === null ? 0 : hours * weighted(crew.equipment, (name) => entry(book.equipment, name));
  const materials = weighted(costs.materials ?? {}, (name) => {
    const { price, waste } = entry(book.materials, name);
    return price * (1 + waste);
  });
  const subcontract = costs.subcontract ?? 0;
  const perJob = costs.perJob === undefined ? 0 : (costs.perJob * 100) / spreadOver;
  const direct = labour + equipment + materials + subcontract + perJob;
  const { contingency, overhead, profit, bonds, insurance } = book.onTop;
  const withContingency = direct * (1 + contingency);
  const withOverhead = withContingency * (1 + overhead);
  const work = withOverhead * (1 + profit);
  const price = work / (1 - bonds - insurance);
  const parts: Record<CostPart, Cents> = {
    labour: toCents(labour),
    equipment: toCents(equipment),
    materials: toCents(materials),
    subcontract: toCents(subcontract),
    "per job": toCents(perJob),
    contingency: toCents(withContingency - direct),
    overhead: toCents(withOverhead - withContingency),
    profit: toCents(work - withOverhead),
    bonds: toCents(price * bonds),
    insurance: toCents(price * insurance),
  };
  return { price: cents(costParts.reduce((sum, part) => sum + parts[part], 0)), parts };
}

/** A unit price of which a line has a share: each part in its proportion, in whole cents that add up to the share. */
export function shareOfUnit({ price, parts }: UnitPrice, share: Cents): UnitPrice {
  const exact = costParts.map((part) => (parts[part] * share) / price);
  const whole = wholeParts(exact, share);
  const own = Object.fromEntries(costParts.map((part, i) => [part, cents(whole[i]!)]));
  return { price: share, parts: own as Record<CostPart, Cents> };
}

/** Half up; a hair more, because 1.005 as a binary number is a hair less. */
const toCents = (value: number): Cents => cents(Math.floor(value * 100 + 0.5 + 1e-9));

const weighted = (amounts: Readonly<Record<string, number>>, cost: (name: string) => number): number =>
  Object.entries(amounts).reduce((sum, [name, amount]) => sum + amount * cost(name), 0);

/** @throws RangeError when a book was not checked: it names what it does not have */
function entry<T>(of: Readonly<Record<string, T>>, name: string): T {
  const found = Object.hasOwn(of, name) ? of[name] : undefined;
  if (found === undefined) throw new RangeError(`priceUnit: the book has no ${JSON.stringify(name)}`);
  return found;
}

/** What all lines come to; null when one has no price. */
export function totalPrice(
  book: CostBook,
  lines: readonly PricedQuantity[],
  planMinutes: ReadonlyMap<BidItemKey, number> | null,
): Cents | null {
  let sum = 0;
  for (const line of lines) {
    const pricing = priceUnit(book, line, planMinutes);
    if (!pricing.ok) return null;
    sum += extend(line.hundredths, pricing.unit.price);
  }
  return cents(sum);
}

/**
 * The quantity at which a line just carries its share of the item's cost per job, as spread over the quantities issued.
 *
 *   q = share / (price · (1 − bonds − insurance) − v),  v: what one more unit costs, without anything on top
 *
 * Source: revenue equals cost, solved for the quantity. Below it the line eats into the rest. Null for a line without a
 * cost per job, or whose units do not carry their own cost.
 */
export function breakEvenQuantity(
  { onTop }: Pick<CostBook, "onTop">,
  hundredths: number,
  { price, parts }: UnitPrice,
): number | null {
  if (parts["per job"] === 0) return null;
  const more = parts.labour + parts.equipment + parts.materials + parts.subcontract;
  const left = price * (1 - onTop.bonds - onTop.insurance) - more;
  return left <= 0 ? null : (parts["per job"] * hundredths) / 100 / left;
}
