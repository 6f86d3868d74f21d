import { dateOf, dayFromIso, isoDate, months, type Weekday, weekdays } from "../quantity/calendar.ts";
import { type Day, day } from "../quantity/si.ts";
import type { SeasonCalendar, SeasonDays } from "../reference/season-days.ts";

/** How a season's weather may turn out: the expected table, and what is laid on it. */
export interface Weather {
  /** Times the table. */
  readonly times: number;
  /** Days more a month. */
  readonly more: number;
}
export const EXPECTED: Weather = { times: 1, more: 0 };

/** One day of the season on which crews are meant to work. */
export interface WorkDay {
  readonly day: Day;
  /** Given up to weather: which days of a month cannot be known, so they are spread evenly over it. */
  readonly lost: boolean;
}

export const weekdayOf = (on: Day): Weekday => weekdays[(((on + 4) % 7) + 7) % 7]!;

/** @throws RangeError when the settings were not checked */
export function knownDay(iso: string): Day {
  const found = dayFromIso(iso);
  if (found === null) throw new RangeError(`knownDay: ${JSON.stringify(iso)} is no day`);
  return found;
}

/**
 * The working days of the season: days of the working week that are no holiday. Of those of each month the expected number
 * is lost to weather; the month is taken whole, so a season that begins in its middle loses its part.
 */
export function workDays(calendar: SeasonCalendar, table: SeasonDays, weather: Weather): readonly WorkDay[] {
  const starts = knownDay(calendar.starts);
  const ends = knownDay(calendar.ends);
  const holidays = new Set(calendar.holidays.map((holiday) => holiday.day));
  const isWorked = (on: Day): boolean =>
    calendar.workingWeek.includes(weekdayOf(on)) && !holidays.has(isoDate(on));
  const found: WorkDay[] = [];
  for (let first = firstOfMonth(starts); first <= ends; first = nextMonth(first)) {
    const month: Day[] = [];
    for (let on = first; on < nextMonth(first); on = day(on + 1)) if (isWorked(on)) month.push(on);
    const expected = table.daysLost[months[dateOf(first).month - 1]!];
    const lost = Math.min(month.length, Math.round(expected * weather.times + weather.more));
    const taken = spreadOver(month.length, lost);
    month.forEach((on, i) => {
      if (on >= starts && on <= ends) found.push({ day: on, lost: taken.has(i) });
    });
  }
  return found;
}

/**
 * So many of n places, spread evenly; of more places the fewer are a part, so that worse weather never gives a day back.
 * The order is the van der Corput sequence of base 2 (1/2, 1/4, 3/4, 1/8, …), each term at the nearest place still free.
 */
function spreadOver(n: number, count: number): ReadonlySet<number> {
  const taken = new Set<number>();
  for (let term = 1; taken.size < count; term++) {
    let part = 0;
    for (let bits = term, weight = 0.5; bits > 0; bits >>= 1, weight /= 2) part += (bits & 1) * weight;
    let place = Math.floor(part * n);
    while (taken.has(place)) place = (place + 1) % n;
    taken.add(place);
  }
  return taken;
}

const firstOfMonth = (on: Day): Day => day(on - dateOf(on).dayOfMonth + 1);
/** 31 days on is always in the next month. */
const nextMonth = (first: Day): Day => firstOfMonth(day(first + 31));
