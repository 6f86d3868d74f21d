import { showNumber } from "../../quantity/show-quantity.ts";

export const count = (value: number): string => showNumber(value, "count", { units: "us", currency: "" });

/** Whole units of money: cents would pretend to a precision no plan has. */
export const wholeMoney = (cents: number, currency: string): string =>
  `${currency} ${count(Math.round(cents / 100))}`;
