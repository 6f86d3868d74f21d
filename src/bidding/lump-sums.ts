import { extend } from "../quantity/money.ts";
import { type Cents, cents } from "../quantity/si.ts";
import { wholeParts } from "../quantity/whole-parts.ts";
import { type IssuedLine, type Part, partName } from "./bid.ts";
import { money } from "./money-words.ts";

/**
 * Prices over the parts of a bid, of an estimate or a cost book. Their lump sum is for all the work, and an alternate adds to the base bid:
 * where several parts ask for the same lump sum, each has the share of its other work at these prices, in whole cents that add up, so that
 * dividing a bid changes neither. A bidder may price the lump sum of each part by itself.
 *
 * @param prices by line; null where there is none
 */
export function shareLumpSums(
  lines: readonly Pick<IssuedLine, "item" | "part" | "hundredths" | "lumpSum">[],
  prices: readonly (Cents | null)[],
): readonly (Cents | null)[] {
  const work = new Map<IssuedLine["part"], number>();
  for (const [i, { part, hundredths, lumpSum }] of lines.entries()) {
    const price = prices[i] ?? null;
    if (!lumpSum && price !== null) work.set(part, (work.get(part) ?? 0) + extend(hundredths, price));
  }
  const shared = [...prices];
  const items = new Set(lines.flatMap(({ item, lumpSum }) => (lumpSum ? [item] : [])));
  for (const item of items) {
    const own = [...lines.keys()].filter((i) => lines[i]!.item === item);
    const price = prices[own[0]!] ?? null;
    if (own.length === 1 || price === null) continue;
    const works = own.map((i) => work.get(lines[i]!.part) ?? 0);
    const all = works.reduce((sum, each) => sum + each, 0);
    // Without other work that has a price, the first part has it all.
    const exact = works.map((each, k) => (all === 0 ? (k === 0 ? price : 0) : (price * each) / all));
    for (const [k, part] of wholeParts(exact, price).entries()) shared[own[k]!] = cents(part);
  }
  return shared;
}

/** A lump sum that several parts ask for, and what each of them has of it. */
export interface SharedLumpSum {
  readonly item: string;
  readonly description: string;
  readonly whole: Cents;
  readonly shares: readonly { readonly line: number; readonly part: Part; readonly price: Cents }[];
}

/** What {@link shareLumpSums} has shared. */
export function sharedLumpSums(
  lines: readonly Pick<IssuedLine, "item" | "description" | "part" | "lumpSum">[],
  prices: readonly (Cents | null)[],
): readonly SharedLumpSum[] {
  const items = [...new Set(lines.flatMap(({ item, lumpSum }) => (lumpSum ? [item] : [])))];
  return items.flatMap((item): SharedLumpSum[] => {
    const shares = lines.flatMap(({ item: own, part }, line) => {
      const price = prices[line] ?? null;
      return own === item && price !== null ? [{ line, part, price }] : [];
    });
    if (shares.length < 2) return [];
    const whole = cents(shares.reduce((sum, { price }) => sum + price, 0));
    return [{ item, description: lines[shares[0]!.line]!.description, whole, shares }];
  });
}

/** In a sentence: the whole of it, and the share of each part. */
export const describeShared = ({ item, description, whole, shares }: SharedLumpSum): string =>
  `Item ${item}, ${description}: ${money(whole)} for all the work, shared by the other work of each part at these prices: ` +
  `${shares.map(({ part, price }) => `${partName(part)} ${money(price)}`).join(", ")}.`;
