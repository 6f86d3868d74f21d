import { showCount } from "../../quantity/show-quantity.ts";

/** Whole units of money: cents would pretend to a precision no plan has. */
export const wholeMoney = (cents: number, currency: string): string =>
  `${currency} ${showCount(Math.round(cents / 100))}`;

/** The mark of a sum that laterals without a price are not in. */
export const markIf = (unpriced: number): "*" | "" => (unpriced > 0 ? "*" : "");
