import type { CityFile } from "../columns/city-file.ts";
import { dateOf, dayOf } from "../quantity/calendar.ts";
import { type Day, day } from "../quantity/si.ts";
import { type CellProblem, notedNumber, refusedNumber } from "./cell-problem.ts";
import { dateWithMonthName } from "./month-names.ts";

export type DateOrder = CityFile<string>["dateOrder"];

const EXPECTED = "a date with a four-digit year";
const CENTURY = "Write the year with four digits: the century is not guessed.";
const MILLISECONDS_PER_DAY = 86_400_000;
const TIME_OF_DAY =
  /^(?:T|\s+)\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?\s*(?:[ap]\.?m\.?)?\s*(?:Z|[+-]\d{2}(?::?\d{2})?)?$/i;

const SLASH = 47;
const DASH = 45;
const DOT = 46;

/**
 * Days that systems write when they have no date: day 0 and day 1 of a spreadsheet, day 0 of a computer's clock, and
 * the last day of a calendar with four-digit years.
 */
const NO_DATE = new Set<number>(
  [dayOf(1899, 12, 30), dayOf(1900, 1, 1), dayOf(1970, 1, 1), dayOf(9999, 12, 31)].filter((d) => d !== null),
);

/** A date of an event. A day that stands for "no date" is missing, and noted. */
export function readDate(text: string, order: DateOrder): Day | CellProblem<number> {
  const found = readDay(text, order);
  if (typeof found === "number" && NO_DATE.has(found))
    return notedNumber(
      Number.NaN,
      "the day of an event",
      "This day is what systems write when there is no date: taken as missing.",
    );
  return found;
}

/**
 * Any written date: `2025-03-04`, `2025/03/04 10:30:00+00`, `20250304`, `4.3.2025` (dots: day first), `3/4/2025` and
 * `3-4-2025` in the file's declared order, `4-Mar-2025`, `March 4, 2025` and `4. März 2025` in any order, a spreadsheet's
 * day number (five digits, `45720`), milliseconds since 1970 (11 to 13 digits, `1741046400000`, the day in UTC). A time
 * of day is allowed and dropped: the date is the one written, in the zone it was written in. Years of two digits are
 * refused.
 */
export function readDay(text: string, order: DateOrder): Day | CellProblem<number> {
  const n = text.length;
  // The three numbers move up as they are read, each with its width.
  let a = 0;
  let b = 0;
  let c = 0;
  let wa = 0;
  let wb = 0;
  let wc = 0;
  let separator = 0;
  let i = 0;
  for (let part = 0; part < 3; part++) {
    const from = i;
    let value = 0;
    for (; i < n; i++) {
      const digit = text.charCodeAt(i);
      if (digit < 48 || digit > 57) break;
      value = value * 10 + (digit - 48);
    }
    a = b;
    b = c;
    c = value;
    wa = wb;
    wb = wc;
    wc = i - from;
    if (part === 2) break;
    const mark = text.charCodeAt(i);
    if (i === n || (part === 0 ? mark !== SLASH && mark !== DASH && mark !== DOT : mark !== separator))
      return readOtherForms(text);
    separator = mark;
    i++;
  }
  if (i < n && !TIME_OF_DAY.test(text.slice(i))) return readOtherForms(text);

  if (wa === 4 && within(wb, 1, 2) && within(wc, 1, 2)) return existing(a, b, c);
  if (!within(wa, 1, 2) || !within(wb, 1, 2)) return readOtherForms(text);
  if (wc === 2) return refusedNumber(EXPECTED, CENTURY);
  if (wc !== 4) return readOtherForms(text);
  const dayFirst = separator === DOT || order === "day first";
  const month = dayFirst ? b : a;
  if (month > 12 && (dayFirst ? a : b) <= 12)
    return refusedNumber(
      `a date with the ${dayFirst ? "day" : "month"} first`,
      `If this file writes the ${dayFirst ? "month" : "day"} first, set "date_order": "${dayFirst ? "month" : "day"} first" for it in program.json.`,
    );
  return existing(c, month, dayFirst ? a : b);
}

/**
 * Day of a spreadsheet's day number, 1900 system: 1 is 1900-01-01. The system counts a 29 February 1900, number 60,
 * which never was; numbers after it are one day further than the calendar.
 * Source: the 1900 date base of ECMA-376 Part 1, 18.17.4 (from memory, unverified). Check: 25569 is 1970-01-01.
 */
export function dayOfSerial(serial: number): Day | null {
  const whole = Math.floor(serial);
  if (!(whole >= 1) || whole === 60) return null;
  return day(whole - (whole > 60 ? 25_569 : 25_568));
}

function readOtherForms(text: string): Day | CellProblem<number> {
  if (/^\d{5}(\.\d+)?$/.test(text)) {
    const found = dayOfSerial(Number(text));
    if (found !== null) return found;
  }
  if (/^-?\d{11,13}$/.test(text)) return day(Math.floor(Number(text) / MILLISECONDS_PER_DAY));
  if (/^(1[89]|20|21)\d{6}$/.test(text))
    return existing(Number(text.slice(0, 4)), Number(text.slice(4, 6)), Number(text.slice(6)));
  if (/^\d{4}$/.test(text)) return refusedNumber(EXPECTED, "A year alone is not a day: write the date.");
  const named = dateWithMonthName(text);
  if (named === null || (named.rest !== "" && !TIME_OF_DAY.test(named.rest)))
    return refusedNumber(EXPECTED, "Write it like 2025-03-04.");
  if (named.month === null)
    return refusedNumber(
      "a date with a month's name in English or German",
      `${JSON.stringify(named.name)} is no month's name that is known. Write it like 2025-03-04.`,
    );
  if (named.year.length === 2) return refusedNumber(EXPECTED, CENTURY);
  return existing(Number(named.year), named.month, named.dayOfMonth);
}

function existing(year: number, month: number, dayOfMonth: number): Day | CellProblem<number> {
  return (
    dayOf(year, month, dayOfMonth) ??
    refusedNumber("a date that exists", "Correct the day or the month, or write it like 2025-03-04.")
  );
}

const within = (value: number, least: number, most: number): boolean => value >= least && value <= most;

/** `ca. 1950`, `1950er`, `vor 1945`: what was meant by it is for people to say. */
function noYear(text: string, found: CellProblem<number>): CellProblem<number> {
  const expected = "a year, or a date with a four-digit year";
  const [, year] = /^\D*(\d{4})\D*$/.exec(text) ?? [];
  if (year === undefined) return { ...found, expected, remedy: `Taken as missing. ${found.remedy}` };
  return refusedNumber(expected, `Taken as missing. If ${year} is near enough, write ${year}.`);
}

/**
 * A year: four digits, or the year of a written date. 0, 9999 and a spreadsheet's day 0 stand for unknown and are
 * missing. 1900 is kept, because pipes were laid in 1900, and noted, because systems write it for unknown. A number of
 * five digits is refused: it may be a day number or a slip of the keyboard (`19306`).
 *
 * @param latest the year of the program's day: what is laid later is not there
 */
export function readYear(
  text: string,
  order: DateOrder,
  range: readonly [number, number],
  latest = range[1],
): number | CellProblem<number> {
  let year: number;
  if (/^\d{1,5}([.,]0+)?$/.test(text)) {
    year = Number.parseInt(text, 10);
    if (year > 0 && year < 1000)
      return refusedNumber("a year of four digits", "Write all four digits: the century is not guessed.");
    if (year > 9999)
      return refusedNumber(
        "a year of four digits",
        "If this is a spreadsheet's day number, format the column as a date and export again.",
      );
  } else {
    const found = readDay(text, order);
    if (typeof found !== "number") return noYear(text, found);
    year = found === dayOf(1899, 12, 30) ? 0 : dateOf(found).year;
  }
  if (year === 0 || year === 9999)
    return notedNumber(Number.NaN, "a year", "It stands for an unknown year: taken as missing.");
  if (year < range[0] || year > range[1])
    return refusedNumber(
      `a year from ${range[0]} to ${range[1]}`,
      "Taken as missing. Correct the year, or leave the cell empty.",
    );
  if (year > latest)
    return refusedNumber(
      `a year up to ${latest}, the year of "as_of" in program.json`,
      "Correct the year, or leave the cell empty. Until then it is taken as missing.",
    );
  if (year === 1900)
    return notedNumber(1900, "a known year", "Kept as 1900. If it stands for unknown here, empty the cell.");
  return year;
}
