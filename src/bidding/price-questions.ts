import { extend } from "../quantity/money.ts";
import { type Cents, cents } from "../quantity/si.ts";
import type { BidCheckBand } from "../reference/bidding-rules.ts";
import type { IssuedLine } from "./bid.ts";

/*
 * Prices worth a second look before an award: the order of checks of FHWA's memorandum of 16 May 1988 is first the
 * quantity, then the estimate, then the effect on the ranking. A price far from the estimate has many honest reasons;
 * nothing here says that a bid is unbalanced.
 */

/** Price over estimate, where it leaves the band. */
export interface PriceRatio {
  readonly line: number;
  readonly ratio: number;
}

/** @param prices unit prices as corrected, in the order of the lines */
export function pricesOutsideBand(
  prices: readonly (Cents | null)[],
  estimate: readonly (Cents | null)[],
  { low, high }: Pick<BidCheckBand, "low" | "high">,
): readonly PriceRatio[] {
  return prices.flatMap((price, line) => {
    const own = estimate[line] ?? null;
    if (price === null || own === null || own === 0) return [];
    const ratio = price / own;
    return ratio < low || ratio > high ? [{ line, ratio }] : [];
  });
}

/** The quantity of one line at which two bids come to the same, all other quantities as issued. */
export interface BreakEven {
  readonly line: number;
  /** In the line's unit. */
  readonly quantity: number;
  /** Against the quantity issued: 0.206 is 20.6 % more. */
  readonly change: number;
}

/**
 * Where the order of two bids turns.
 *
 *   T₁ + p₁·(q − q₀) = T₂ + p₂·(q − q₀),  so  q = q₀ + (T₂ − T₁) / (p₁ − p₂)
 *
 * Source: equal totals, solved for one quantity. Holds for: prices that stay as bid when quantities change; whole
 * lump sums have no quantity to change; a quantity below nothing is none, and one more than doubled is no question of what was measured.
 */
export function breakEvens(
  lines: readonly IssuedLine[],
  lower: readonly (Cents | null)[],
  higher: readonly (Cents | null)[],
): readonly BreakEven[] {
  const difference = totalOf(lines, higher) - totalOf(lines, lower);
  return lines.flatMap((line, i) => {
    const [p1, p2] = [lower[i] ?? null, higher[i] ?? null];
    if (line.lumpSum || p1 === null || p2 === null || p1 === p2 || line.hundredths === 0) return [];
    const issued = line.hundredths / 100;
    const quantity = issued + difference / (p1 - p2);
    return quantity < 0 || quantity > 2 * issued
      ? []
      : [{ line: i, quantity, change: quantity / issued - 1 }];
  });
}

/**
 * The smallest part by which quantities must turn out otherwise, each in the direction that favours the higher bid, for
 * the order to turn: (T₂ − T₁) / Σ q₀·|p₁ − p₂| over the lines with a quantity. Null when no quantity can turn it: by more than the
 * whole, those that turn out less would be below nothing.
 */
export function turnsAt(
  lines: readonly IssuedLine[],
  lower: readonly (Cents | null)[],
  higher: readonly (Cents | null)[],
): number | null {
  let spread = 0;
  for (const [i, line] of lines.entries()) {
    const [p1, p2] = [lower[i] ?? null, higher[i] ?? null];
    if (line.lumpSum || p1 === null || p2 === null) continue;
    spread += (line.hundredths * Math.abs(p1 - p2)) / 100;
  }
  const difference = totalOf(lines, higher) - totalOf(lines, lower);
  return difference > spread || spread === 0 ? null : difference / spread;
}

/** What a list of prices comes to. @throws RangeError where a line has none */
export function totalOf(lines: readonly IssuedLine[], prices: readonly (Cents | null)[]): Cents {
  let sum = 0;
  for (const [i, { hundredths, item }] of lines.entries()) {
    const price = prices[i] ?? null;
    if (price === null) throw new RangeError(`totalOf: item ${item} has no price`);
    sum += extend(hundredths, price);
  }
  return cents(sum);
}
