import { months } from "../quantity/calendar.ts";
import { squashed } from "./headings.ts";

/** Squashed, as `squashed` makes them. */
const GERMAN_MONTHS = [
  "januar",
  "februar",
  "marz",
  "april",
  "mai",
  "juni",
  "juli",
  "august",
  "september",
  "oktober",
  "november",
  "dezember",
] as const;

/** What is written besides: without the dots of `März`, its usual abbreviation, and Austria's January. */
const OTHER_NAMES = [
  ["maerz", 3],
  ["mrz", 3],
  ["janner", 1],
] as const;

const MONTHS: readonly (readonly [name: string, month: number])[] = [
  ...[months, GERMAN_MONTHS].flatMap((names) => names.map((name, i) => [name, i + 1] as const)),
  ...OTHER_NAMES,
];

/** Three letters and more: of two languages none that begin alike are of different months. */
const SHORTEST = 3;

/** The month that a name or its beginning stands for: `Apr`, `SEPT`, `Mai`; null when it is none. */
function monthNamed(name: string): number | null {
  const word = squashed(name);
  if (word.length < SHORTEST) return null;
  return MONTHS.find(([month]) => month.startsWith(word))?.[1] ?? null;
}

/** A month between day and year, before both, or after the year: no two of these can be taken for each other. */
const FORMS = [
  /^(?<day>\d{1,2})(?:st|nd|rd|th)?\s?[-/.,]?\s?(?<name>\p{L}{3,})\s?[-/.,]?\s?(?<year>\d{4}|\d{2})(?!\d)/iu,
  /^(?<name>\p{L}{3,})\s?[-/.]?\s?(?<day>\d{1,2})(?:st|nd|rd|th)?(?:\s?[-/,]\s?|\s)(?<year>\d{4}|\d{2})(?![\d:])/iu,
  /^(?<year>\d{4})\s?[-/.,]?\s?(?<name>\p{L}{3,})\s?[-/.]?\s?(?<day>\d{1,2})(?!\d)/iu,
] as const;

/** A date as it is written with a month's name. */
export interface DateWithMonthName {
  readonly dayOfMonth: number;
  /** Null when the name is no month's. */
  readonly month: number | null;
  readonly name: string;
  /** Four digits or two. */
  readonly year: string;
  /** What follows the date. */
  readonly rest: string;
}

/** `24 Apr 2021`, `24-Apr-21`, `April 24th, 2021`, `24. Mai 2021`, `2021-Apr-24`; null when it is of no such form. */
export function dateWithMonthName(text: string): DateWithMonthName | null {
  for (const form of FORMS) {
    const found = form.exec(text);
    if (found === null) continue;
    const { day = "", name = "", year = "" } = found.groups ?? {};
    return {
      dayOfMonth: Number(day),
      month: monthNamed(name),
      name,
      year,
      rest: text.slice(found[0].length),
    };
  }
  return null;
}
