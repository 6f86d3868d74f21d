import { type Cents, cents } from "./si.ts";

/**
 * A quantity in whole hundredths of its unit. Bid lines are priced on these, so the printed quantity times the
 * printed price is the printed extension.
 */
export const toHundredths = (quantity: number): number => Math.round(quantity * 100);

/**
 * The only place the project rounds money: once, on the extended line, half up. Quantities come in whole
 * hundredths of their unit and prices in whole cents, so half a cent is exactly half.
 *
 * @throws RangeError when the product leaves the range in which a double counts cents exactly.
 */
export function extend(hundredths: number, unitPrice: Cents): Cents {
  const product = hundredths * unitPrice;
  if (!Number.isSafeInteger(product))
    throw new RangeError(`extend: ${hundredths} × ${unitPrice} is not a whole, safe number`);
  return cents(Math.floor((product + 50) / 100));
}

/** A part of something as two whole numbers: `of` out of `whole`. */
export interface Part {
  readonly of: number;
  readonly whole: number;
}

/**
 * A part of a whole amount, half up. Doubles may be just under a half that is exact (77.55 of 106.60 ft of $586.30 are
 * $426.525): near one, whole numbers decide.
 */
export function roundPart(amount: number, { of, whole }: Part): number {
  const about = amount * (of / whole);
  const rounded = Math.floor(about + 0.5);
  if (Math.abs(about - Math.floor(about) - 0.5) > NEAR_HALF) return rounded;
  return Number((2n * BigInt(amount) * BigInt(of) + BigInt(whole)) / (2n * BigInt(whole)));
}

/** Beyond what two roundings of a double move an amount of less than a thousand million. */
const NEAR_HALF = 1e-6;
