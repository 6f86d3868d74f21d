import { type Cents, cents } from "../quantity/si.ts";
import type { MobilizationCap } from "../reference/bidding-rules.ts";

/** Shares are counted in millionths, so that 10 % is exactly 10 %. */
const MILLION = 1_000_000n;

/**
 * The most that mobilisation m may be, in whole cents, rounded down.
 *
 *   of the other items:  m ≤ share · S
 *   of the total:        m ≤ share · (m + S),  so  m ≤ S · share / (1 − share)
 *
 * S: the sum of all other items, without allowances. Source: the two forms of public clauses, a cap on the sum of all
 * other items (Hawaii standard specifications, section 699) and a share of the total bid; the second solved for m.
 * Holds for: a share above nothing and below one.
 */
export function mostMobilization(
  otherItems: Cents,
  { share, of }: Pick<MobilizationCap, "share" | "of">,
): Cents {
  const millionths = BigInt(Math.round(share * 1_000_000));
  if (millionths <= 0n || millionths >= MILLION)
    throw new RangeError(`mostMobilization: a share between 0 and 1, got ${share}`);
  const below = of === "other items" ? MILLION : MILLION - millionths;
  return cents(Number((BigInt(otherItems) * millionths) / below));
}
