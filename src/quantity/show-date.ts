import { dateOf, dayFromIso, isoDate } from "./calendar.ts";
import type { Day } from "./si.ts";

/**
 * How a program writes dates where people read them: `2026-03-01`, `1 March 2026`, `March 1, 2026`. The month is a word
 * wherever it could be taken for the day.
 */
export const dateStyles = ["ISO", "day month year", "month day year"] as const;
export type DateStyle = (typeof dateStyles)[number];

const months = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
] as const;

/** A day in running text; names of months are English on every machine. */
export function showDate(value: Day, style: DateStyle = "ISO"): string {
  const { year, month, dayOfMonth } = dateOf(value);
  const name = months[month - 1]!;
  switch (style) {
    case "ISO":
      return isoDate(value);
    case "day month year":
      return `${dayOfMonth} ${name} ${year}`;
    case "month day year":
      return `${name} ${dayOfMonth}, ${year}`;
    default:
      return style satisfies never;
  }
}

/** The same of a date as it is kept in a file, `2026-03-01`; other text stays as it is. */
export function showWrittenDate(text: string, style: DateStyle): string {
  const value = dayFromIso(text);
  return value === null ? text : showDate(value, style);
}

/** A day of a season without its year, for narrow columns: `03-02`, `2 Mar`, `Mar 2`. */
export function showDayOfYear(value: Day, style: DateStyle): string {
  const { month, dayOfMonth } = dateOf(value);
  const name = months[month - 1]!.slice(0, 3);
  switch (style) {
    case "ISO":
      return isoDate(value).slice(5);
    case "day month year":
      return `${dayOfMonth} ${name}`;
    case "month day year":
      return `${name} ${dayOfMonth}`;
    default:
      return style satisfies never;
  }
}
