import type { Day, Fraction } from "../quantity/si.ts";

/*
 * Compound-interest factors, end-of-period, i per period and n periods.
 *
 * Source: lecture notes "IE 492 Engineering Economics". Amounts may be in any one currency unit and come out unrounded: money
 * is rounded once, where the program extends a line. Holds for: i > −1; at i = 0 each factor is its limit.
 */

/** P/F = (1 + i)^−n. */
export function presentOfFuture(i: Fraction, n: number): number {
  verifyRate(i);
  return Math.exp(-n * Math.log1p(i));
}

/** P/A = (1 − (1 + i)^−n)/i. */
export function presentOfAnnual(i: Fraction, n: number): number {
  verifyRate(i);
  return i === 0 ? n : -Math.expm1(-n * Math.log1p(i)) / i;
}

/** A/P = i·(1 + i)^n/((1 + i)^n − 1): capital recovery. */
export function annualOfPresent(i: Fraction, n: number): number {
  if (!(n > 0)) throw new RangeError(`annualOfPresent needs more than 0 periods, got ${n}`);
  return 1 / presentOfAnnual(i, n);
}

/** A/F = A/P − i: sinking fund. */
export const annualOfFuture = (i: Fraction, n: number): number =>
  annualOfPresent(i, n) * presentOfFuture(i, n);

/** EUAC = (P − SV)·(A/P) + i·SV: what owning something costs each year, salvage value SV coming back at the end. */
export const equivalentAnnualCost = (present: number, salvage: number, i: Fraction, n: number): number =>
  (present - salvage) * annualOfPresent(i, n) + i * salvage;

/** Capitalised cost of an annual amount for ever, A/i. */
export function capitalisedCost(annual: number, i: Fraction): number {
  if (!(i > 0)) throw new RangeError(`capitalisedCost needs a rate above 0, got ${i}`);
  return annual / i;
}

/** Present worth of amounts falling at the ends of years 1, 2, 3, … */
export function presentOfStream(amounts: readonly number[], i: Fraction): number {
  verifyRate(i);
  // Horner's rule from the last year back: one division a year, no powers.
  return amounts.reduceRight((later, amount) => (later + amount) / (1 + i), 0);
}

/**
 * A price moved in time at a rate, C·(1 + e)^years, by FRACTIONAL years: March 2018 to June 2021 is 3.25, and whole years
 * would be 0.9 % out at 3.5 %.
 */
export function escalate(amount: number, rate: Fraction, years: number): number {
  verifyRate(rate);
  return amount * Math.exp(years * Math.log1p(rate));
}

/** A published cost index on a date. */
export interface IndexPoint {
  readonly index: string;
  readonly on: Day;
  readonly value: number;
}

/**
 * A price moved in time by an index, C₂ = C₁·I₂/I₁. Both points carry the index's name, because a price without its index and
 * date cannot be checked later.
 */
export function escalateByIndex(amount: number, from: IndexPoint, to: IndexPoint): number {
  if (from.index !== to.index)
    throw new RangeError(`escalateByIndex needs one index, got "${from.index}" and "${to.index}"`);
  if (!(from.value > 0 && to.value > 0))
    throw new RangeError(`escalateByIndex needs values above 0, got ${from.value} and ${to.value}`);
  return (amount * to.value) / from.value;
}

function verifyRate(rate: Fraction): void {
  if (!(rate > -1)) throw new RangeError(`interest needs a rate above −1, got ${rate}`);
}
