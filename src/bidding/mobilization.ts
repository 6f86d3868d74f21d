import { type Cents, cents } from "../quantity/si.ts";
import type { MobilizationCap } from "../reference/bidding-rules.ts";

/** Shares are counted in millionths, so that 10 % is exactly 10 %. */
const MILLION = 1_000_000;

/**
 * The most that mobilization m may be, in whole cents, rounded down.
 *
 *   of the other items:  m ≤ share · S
 *   of the total:        m ≤ share · (m + S),  so  m ≤ S · share / (1 − share)
 *
 * S: the sum of all other items, without allowances. Source: the two forms of public clauses, a cap on the sum of all
 * other items (Hawaii standard specifications, section 699) and a share of the total bid; the second solved for m.
 * Holds for: a share above nothing and below one.
 */
export const mostMobilization = (otherItems: Cents, cap: Pick<MobilizationCap, "share" | "of">): Cents =>
  fractionOf(otherItems, mobilizationFraction(cap));

/** What {@link mostMobilization} multiplies and divides by. */
export interface MobilizationFraction {
  readonly of: number;
  readonly over: number;
}

/** In whole cents, rounded down. */
export const fractionOf = (amount: Cents, { of, over }: MobilizationFraction): Cents =>
  cents(Number((BigInt(amount) * BigInt(of)) / BigInt(over)));

/** What the other items are multiplied and divided by, in lowest terms: 1/10 of the other items, 1/9 for 10 % of the total. */
export function mobilizationFraction({
  share,
  of,
}: Pick<MobilizationCap, "share" | "of">): MobilizationFraction {
  const millionths = Math.round(share * MILLION);
  if (!(millionths > 0 && millionths < MILLION))
    throw new RangeError(`mobilizationFraction: a share between 0 and 1, got ${share}`);
  const below = of === "other items" ? MILLION : MILLION - millionths;
  const divisor = greatestDivisor(millionths, below);
  return { of: millionths / divisor, over: below / divisor };
}

const greatestDivisor = (a: number, b: number): number => (b === 0 ? a : greatestDivisor(b, a % b));
