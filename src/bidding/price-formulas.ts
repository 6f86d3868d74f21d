import { extend } from "../quantity/money.ts";
import { grouped } from "../quantity/show-quantity.ts";
import { type Cents, cents } from "../quantity/si.ts";
import type { Amount, Bid, PriceFormula } from "./bid.ts";
import { money } from "./money-words.ts";

/**
 * What a price that is a formula comes to: the same again, another amount, or what cannot be checked here. One that was never worked
 * out shows nothing, and is no price.
 */
export type FormulaCheck = "same" | "another" | "unchecked" | "no value";

/** Two roads through binary fractions end this close, by part of the value; no amount of money differs by so little. */
const OFF = 1e-9;

export function checkFormula({ shown, worked }: PriceFormula): FormulaCheck {
  if (shown === null || shown === "") return "no value";
  const value = Number(shown);
  if (!worked.ok || Number.isNaN(value)) return "unchecked";
  return Math.abs(worked.value - value) <= OFF * Math.max(1, Math.abs(value)) ? "same" : "another";
}

/** What is said of such a price of a line of this quantity, and what is done with it. Null where it shows no amount, which is said by itself. */
export function formulaSaid(
  formula: PriceFormula,
  price: Amount,
  hundredths: number,
): { readonly what: string; readonly done: string; readonly check: FormulaCheck } | null {
  const { text, worked } = formula;
  const check = checkFormula(formula);
  const is = `The unit price is the formula ${text}`;
  if (check === "no value")
    return {
      what: `${is}, and the file holds no value of it${worked.ok ? `; worked out here it would be ${figure(worked.value)}` : ""}`,
      done: "Taken as missing: ask for the price as a number.",
      check,
    };
  if (price.kind !== "amount") return null;
  const used = `${money(price.cents)} is used, as the file shows it`;
  if (worked.ok)
    return check === "same"
      ? { what: `${is}, which gives the ${money(price.cents)} that the file shows`, done: `${used}.`, check }
      : {
          what: `${is}, which gives ${figure(worked.value)}; the file shows ${money(price.cents)}`,
          done: `${used}: which of the two is bid is for the owner to settle.${otherTotal(worked.value, price.cents, hundredths)}`,
          check,
        };
  return {
    what: `${is}, which shows ${money(price.cents)} and cannot be worked out here: ${worked.because}`,
    done: `${used}: ask for it as a number, as it may show another when the file is opened.`,
    check,
  };
}

/** What the total would change by if the formula held. */
function otherTotal(value: number, used: Cents, hundredths: number): string {
  const inCents = Math.round(value * 100);
  if (!(inCents >= 0) || !Number.isSafeInteger(inCents * hundredths)) return "";
  const change = extend(hundredths, cents(inCents)) - extend(hundredths, used);
  return ` By the formula the total would be ${money(cents(Math.abs(change)))} ${change < 0 ? "less" : "more"}.`;
}

/** Money where it is whole cents; else with two decimals more. */
const figure = (value: number): string =>
  Math.abs(value * 100 - Math.round(value * 100)) < OFF * Math.max(1, Math.abs(value * 100))
    ? money(cents(Math.round(value * 100)))
    : grouped(value, 4);

/** How many prices of a bid are formulas, and what they come to: `3 of 46 are formulas, 1 without a value`. Null for none. */
export function formulasIn({ lines }: Pick<Bid, "lines">): string | null {
  const checks = lines.flatMap(({ formula }) => (formula === null ? [] : [checkFormula(formula)]));
  if (checks.length === 0) return null;
  const counted = (check: FormulaCheck, words: string): readonly string[] => {
    const count = checks.filter((each) => each === check).length;
    return count === 0 ? [] : [`${count} ${words}`];
  };
  return [
    `${checks.length} of ${lines.length} are formulas`,
    ...counted("same", "worked out again to what the file shows"),
    ...counted("another", "with another amount than the file shows"),
    ...counted("unchecked", "that cannot be worked out here"),
    ...counted("no value", "without a value"),
  ].join(", ");
}
