import { dateOf } from "../quantity/calendar.ts";
import { day } from "../quantity/si.ts";

/**
 * The arithmetic that compiled formulas call. The tolerance and the rounding are those of mathjs 15, so a formula
 * means here what it means there: two numbers a part in 10¹² apart are equal. Without it a pipe given as 152.4 mm
 * would be larger than 6 in, which is 152.39999999999998 mm to a computer.
 */
const RELATIVE = 1e-12;
const ABSOLUTE = 1e-15;

/** Whether two numbers are equal for all purposes. An infinity equals only itself. */
export function near(a: number, b: number): boolean {
  if (a === b) return true;
  const gap = Math.abs(a - b);
  return (
    gap < Number.POSITIVE_INFINITY && gap <= Math.max(RELATIVE * Math.max(Math.abs(a), Math.abs(b)), ABSOLUTE)
  );
}

/** The smaller, exactly; missing when either is. */
export const least = (a: number, b: number): number => (b < a || Number.isNaN(b) ? b : a);
/** The greater, exactly; missing when either is. */
export const greatest = (a: number, b: number): number => (b > a || Number.isNaN(b) ? b : a);

/** Nearest whole number, halves away from zero: 2.5 → 3, −2.5 → −3. */
export function roundAway(x: number): number {
  const size = Math.abs(x);
  // From 2⁵² on every double is whole, and NaN stays NaN.
  if (!(size < 2 ** 52)) return x;
  const below = Math.floor(size);
  const whole = size >= below + 0.5 ? below + 1 : below;
  return x < 0 ? -whole : whole;
}

/** Whole number below; a number that is whole but for rounding is that number (30 ft ÷ 1 ft is 30, not 29). */
export function floorNear(x: number): number {
  const below = Math.floor(x);
  const nearest = roundAway(x);
  return nearest !== below && near(x, nearest) && !near(x, below) ? nearest : below;
}

/** Whole number above, with the same allowance. */
export function ceilNear(x: number): number {
  const above = Math.ceil(x);
  const nearest = roundAway(x);
  return nearest !== above && near(x, nearest) && !near(x, above) ? nearest : above;
}

/** Calendar year of a day number; missing when the day is. */
export const yearOf = (value: number): number =>
  Number.isFinite(value) ? dateOf(day(Math.floor(value))).year : Number.NaN;
