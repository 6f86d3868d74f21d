import { showCount } from "../../quantity/show-quantity.ts";

/** Whole units of money: cents would pretend to a precision no plan has. */
export const wholeMoney = (cents: number, currency: string): string =>
  `${currency} ${showCount(Math.round(cents / 100))}`;
