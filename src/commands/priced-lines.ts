import type { IssuedLine } from "../bidding/bid.ts";
import type { CostBook } from "../bidding/cost-book.ts";
import { shareLumpSums } from "../bidding/lump-sums.ts";
import {
  type CostPart,
  costParts,
  type PricedQuantity,
  type Pricing,
  priceUnit,
  shareOfUnit,
} from "../bidding/unit-price.ts";
import type { Cents } from "../quantity/si.ts";
import { type BidItemKey, houseBidItems } from "../reference/bid-items.ts";
import { variantIn } from "../workbook/bid-schedule.ts";

export interface PricedLine {
  readonly line: IssuedLine;
  readonly quantity: PricedQuantity | null;
  readonly pricing: Pricing;
}

/** The price of each issued line; of a lump sum that several parts of the bid ask for, its part's share. */
export function priceLines(
  book: CostBook,
  lines: readonly IssuedLine[],
  minutes: ReadonlyMap<BidItemKey, number> | null,
): readonly PricedLine[] {
  const whole = lines.map((line) => priceLine(book, line, lines, minutes));
  const shares = shareLumpSums(lines, unitPricesOf(whole));
  return whole.map((each, i) => {
    const { pricing } = each;
    const share = shares[i] ?? null;
    return !pricing.ok || share === null || share === pricing.unit.price
      ? each
      : { ...each, pricing: { ok: true, unit: shareOfUnit(pricing.unit, share) } };
  });
}

/** The unit price of each line; null where the cost book gives none. */
export const unitPricesOf = (priced: readonly PricedLine[]): readonly (Cents | null)[] =>
  priced.map(({ pricing }) => (pricing.ok ? pricing.unit.price : null));

/** The price of an issued line, by the item and the size its wording names; a lump sum's is for all the work. */
function priceLine(
  book: CostBook,
  line: IssuedLine,
  lines: readonly IssuedLine[],
  minutes: ReadonlyMap<BidItemKey, number> | null,
): PricedLine {
  if (line.fixed !== null) return { line, quantity: null, pricing: carriedAt(line.fixed) };
  const item = houseBidItems.items.find(({ number }) => number === Math.floor(Number(line.item)));
  const variant = item === undefined ? null : variantIn(line.description, item);
  if (item === undefined || variant === null)
    return {
      line,
      quantity: null,
      pricing: { ok: false, because: "no item of a cost book has this wording" },
    };
  const itemHundredths = line.lumpSum
    ? line.hundredths
    : lines.reduce(
        (sum, other) => (Math.floor(Number(other.item)) === item.number ? sum + other.hundredths : sum),
        0,
      );
  const quantity: PricedQuantity = { item: item.key, variant, hundredths: line.hundredths, itemHundredths };
  return { line, quantity, pricing: priceUnit(book, quantity, minutes) };
}

/** An allowance is carried at the owner's amount, whatever a cost book says. */
const carriedAt = (price: Cents): Pricing => ({
  ok: true,
  unit: { price, parts: Object.fromEntries(costParts.map((part) => [part, 0])) as Record<CostPart, Cents> },
});
