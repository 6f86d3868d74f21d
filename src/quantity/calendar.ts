import { rememberByNumber } from "./remember-by-number.ts";
import { type Day, day } from "./si.ts";

export const months = [
  "january",
  "february",
  "march",
  "april",
  "may",
  "june",
  "july",
  "august",
  "september",
  "october",
  "november",
  "december",
] as const;
export type Month = (typeof months)[number];

/** Sunday first: day 0, 1 January 1970, is a Thursday. */
export const weekdays = [
  "sunday",
  "monday",
  "tuesday",
  "wednesday",
  "thursday",
  "friday",
  "saturday",
] as const;
export type Weekday = (typeof weekdays)[number];

/**
 * Day number of a civil date, days since 1970-01-01 in the proleptic Gregorian calendar, by integer arithmetic:
 * no clock, no time zone. Null when the date does not exist (31 April, 29 February 2025).
 */
export function dayOf(year: number, month: number, dayOfMonth: number): Day | null {
  if (
    !Number.isInteger(year) ||
    month < 1 ||
    month > 12 ||
    dayOfMonth < 1 ||
    dayOfMonth > daysInMonth(year, month)
  )
    return null;
  // The year starts in March, so the leap day is its last day.
  const y = month <= 2 ? year - 1 : year;
  const era = Math.floor(y / 400);
  const yearOfEra = y - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + dayOfMonth - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return day(era * 146097 + dayOfEra - 719468);
}

/** The year of a day, worked out once for each: that of the program's is asked for with every lateral, that of a survey with every survey. */
export const yearOf = (value: Day): number => yearOfDay(value - BEFORE_ALL, value);
const yearOfDay = rememberByNumber((value: Day) => dateOf(value).year);
/** A day before any that anybody writes, so that no day is 0. */
const BEFORE_ALL = -1_000_000;

/** The civil date of a day number. */
export function dateOf(value: Day): {
  readonly year: number;
  readonly month: number;
  readonly dayOfMonth: number;
} {
  const z = value + 719468;
  const era = Math.floor(z / 146097);
  const dayOfEra = z - era * 146097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36524) - Math.floor(dayOfEra / 146096)) /
      365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const shifted = Math.floor((5 * dayOfYear + 2) / 153);
  const month = shifted + (shifted < 10 ? 3 : -9);
  return {
    year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    dayOfMonth: dayOfYear - Math.floor((153 * shifted + 2) / 5) + 1,
  };
}

/** ISO 8601 date text, `2026-03-01`. */
export function isoDate(value: Day): string {
  const { year, month, dayOfMonth } = dateOf(value);
  return `${String(year).padStart(4, "0")}-${String(month).padStart(2, "0")}-${String(dayOfMonth).padStart(2, "0")}`;
}

/** Reads `2026-03-01`; null for anything else. City files have their own date readers in intake/. */
export function dayFromIso(text: string): Day | null {
  const found = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  return found === null ? null : dayOf(Number(found[1]), Number(found[2]), Number(found[3]));
}

/** Mean Gregorian year, for ages shown in years. */
export const DAYS_PER_YEAR = 365.2425;

function daysInMonth(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/** The same day so many years later, to the day by the mean year. */
export const yearsAfter = (value: Day, years: number): Day =>
  Math.round(value + years * DAYS_PER_YEAR) as Day;
