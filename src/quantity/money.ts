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
