import { type Cents, cents } from "../quantity/si.ts";
import { houseBidItems } from "../reference/bid-items.ts";
import { type Fault, faultAt } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";

/** From here on a double no longer keeps every cent as it was typed: 15 digits in all are safe. */
const TOO_GREAT = 1e13;

/**
 * A price in whole cents, from the digits people typed and never by multiplying: `4900.5` is 490050 ¢ because its
 * text is. Null when it is below nothing, has more than two decimals, or is too great to be exact.
 */
export function priceInCents(price: number): Cents | null {
  if (!(price >= 0 && price < TOO_GREAT)) return null;
  // The shortest text that reads back as the same number: what was typed, up to 15 digits.
  const found = /^(\d+)(?:\.(\d{1,2}))?$/.exec(String(price));
  return found === null ? null : cents(Number(`${found[1]}${(found[2] ?? "").padEnd(2, "0")}`));
}

/** Prices by bid line key: `camera inspection`, `full-length liner | 6 in`. */
export function layPrices(settings: Settings, faults: Fault[]): Readonly<Record<string, Cents>> {
  const prices: Record<string, Cents> = {};
  const enter = (key: string, path: string[], price: number) => {
    const exact = priceInCents(price);
    if (exact === null) {
      faults.push(faultAt(settings, path, "a price of nothing or more, with at most two decimals"));
    } else prices[key] = exact;
  };
  for (const item of houseBidItems.items) {
    const written = settings.unit_prices?.items[item.key];
    const path = ["unit_prices", "items", item.key];
    if (written === undefined) continue;
    // One price may stand for every depth.
    if (item.variant === "depth" && typeof written === "number") enter(item.key, path, written);
    else if (item.variant === "none") {
      if (typeof written === "number") enter(item.key, path, written);
      else faults.push(faultAt(settings, path, "one price: this item has no sizes"));
    } else if (typeof written === "number") {
      const expected = `a price for each ${item.variant}, in braces`;
      faults.push(faultAt(settings, path, `${expected}\nThis item is priced by ${item.variant}.`));
    } else {
      for (const [variant, price] of Object.entries(written)) {
        enter(`${item.key} | ${variant}`, [...path, variant], price);
      }
    }
  }
  return prices;
}
