import { type Cents, cents } from "../quantity/si.ts";
import type { BidItemKey } from "../reference/bid-items.ts";
import type { CostBook, ItemCosts, UnitCosts } from "./cost-book.ts";
import { type PricedQuantity, totalPrice } from "./unit-price.ts";

/** What the total changes by when one rate is higher by a part of itself. */
export interface Sensitivity {
  readonly rate: string;
  readonly change: Cents;
}

/** The rates that move the total most, most first; each alone, all else as it is. Empty when a line has no price. */
export function sensitivities(
  book: CostBook,
  lines: readonly PricedQuantity[],
  planMinutes: ReadonlyMap<BidItemKey, number> | null,
  part: number,
): readonly Sensitivity[] {
  const total = totalPrice(book, lines, planMinutes);
  if (total === null) return [];
  const up = 1 + part;
  const scaled = (rates: Readonly<Record<string, number>>, name: string) => ({
    ...rates,
    [name]: rates[name]! * up,
  });
  const changed: [string, CostBook][] = [
    ...Object.keys(book.roles).map((name): [string, CostBook] => [
      `hourly rate, ${name}`,
      { ...book, roles: scaled(book.roles, name) },
    ]),
    ...Object.keys(book.equipment).map((name): [string, CostBook] => [
      `hourly rate, ${name}`,
      { ...book, equipment: scaled(book.equipment, name) },
    ]),
    ...Object.entries(book.materials).map(([name, material]): [string, CostBook] => [
      `price of ${name}`,
      { ...book, materials: { ...book.materials, [name]: { ...material, price: material.price * up } } },
    ]),
    ...Object.keys(book.onTop).map((name): [string, CostBook] => [
      name,
      { ...book, onTop: { ...book.onTop, [name]: book.onTop[name as keyof CostBook["onTop"]] * up } },
    ]),
    ["crew minutes of all items", slower(book, up)],
  ];
  const slowerPlan =
    planMinutes === null ? null : new Map([...planMinutes].map(([item, own]) => [item, own * up]));
  return changed
    .flatMap(([rate, other]): Sensitivity[] => {
      const minutes = rate.startsWith("crew minutes") ? slowerPlan : planMinutes;
      const changedTotal = totalPrice(other, lines, minutes);
      return changedTotal === null ? [] : [{ rate, change: cents(changedTotal - total) }];
    })
    .filter(({ change }) => change !== 0)
    .sort((a, b) => b.change - a.change || (a.rate < b.rate ? -1 : 1));
}

function slower(book: CostBook, up: number): CostBook {
  const unit = <Costs extends UnitCosts>(costs: Costs): Costs =>
    typeof costs.minutes === "number" ? { ...costs, minutes: costs.minutes * up } : costs;
  const item = (costs: ItemCosts): ItemCosts => ({
    ...unit(costs),
    ...(costs.sizes === undefined
      ? {}
      : { sizes: Object.fromEntries(Object.entries(costs.sizes).map(([size, own]) => [size, unit(own)])) }),
  });
  return {
    ...book,
    items: Object.fromEntries(Object.entries(book.items).map(([key, costs]) => [key, item(costs)])),
  };
}
