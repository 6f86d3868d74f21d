import { dateOf, isoDate } from "../quantity/calendar.ts";
import { districtName } from "../quantity/district-name.ts";
import { type Day, day } from "../quantity/si.ts";
import type { CrewCalendar, CrewSpan } from "../season/calendar.ts";

/** A row of the strip: one kind of crew in one district, a cell a week. */
export interface StripRow {
  readonly district: string;
  readonly crew: string;
  /** Crew-days worked in each week; 0 is none. */
  readonly worked: readonly number[];
  /** Weeks in which the crew mobilizes there. */
  readonly mobilized: readonly boolean[];
}

export interface SeasonStrip {
  /** Mondays of the weeks. */
  readonly weeks: readonly Day[];
  readonly rows: readonly StripRow[];
}

const DAYS_PER_WEEK = 7;
/** Day 4 of the count of days was a Monday: 5 January 1970. */
const mondayOf = (on: Day): Day => day(on - ((((on - 4) % DAYS_PER_WEEK) + DAYS_PER_WEEK) % DAYS_PER_WEEK));

/** The calendar by weeks, from the season's first to its last. */
export function stripOf({ districts }: CrewCalendar, starts: Day, ends: Day): SeasonStrip {
  const first = mondayOf(starts);
  const count = (mondayOf(ends) - first) / DAYS_PER_WEEK + 1;
  const weeks = Array.from({ length: count }, (_, i) => day(first + i * DAYS_PER_WEEK));
  const weekOf = (on: Day): number => (mondayOf(on) - first) / DAYS_PER_WEEK;
  const row = (district: string, { crew, worked, mobilized }: CrewSpan): StripRow => {
    const sums = weeks.map(() => 0);
    for (const [on, crews] of worked) sums[weekOf(on)]! += crews;
    const moving = new Set(mobilized.map(weekOf));
    return { district, crew, worked: sums, mobilized: weeks.map((_, i) => moving.has(i)) };
  };
  return {
    weeks,
    rows: districts.flatMap(({ district, crews }) => crews.map((span) => row(district, span))),
  };
}

/** Letters of a cell: its crew-days, `m` where the crew only mobilizes, a dot for none. */
export const cellOf = (worked: number, mobilized: boolean): string =>
  worked > 9 ? "+" : worked > 0 ? String(worked) : mobilized ? "m" : "·";

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/** The strip in plain text, a letter a week. Needs no colour. */
export function drawStrip({ weeks, rows }: SeasonStrip): string {
  const names = rows.map(({ district, crew }) => `${districtName(district)}  ${crew}`);
  const wide = Math.max(0, ...names.map((name) => name.length));
  return [
    `${"".padEnd(wide)}  ${monthLine(weeks)}`.trimEnd(),
    ...rows.map(
      ({ worked, mobilized }, i) =>
        `${names[i]!.padEnd(wide)}  ${worked.map((days, week) => cellOf(days, mobilized[week] === true)).join("")}`,
    ),
    `A letter a week from ${weeks.length === 0 ? "" : isoDate(weeks[0]!)}: crew-days worked (+ is ten or more), m mobilization only, · none.`,
  ].join("\n");
}

/** Names of months over the week in which each has its first Monday, as far as there is room. */
function monthLine(weeks: readonly Day[]): string {
  let line = "";
  weeks.forEach((monday, i) => {
    const { month, dayOfMonth } = dateOf(monday);
    if (dayOfMonth <= DAYS_PER_WEEK && line.length <= i) line = line.padEnd(i) + MONTHS[month - 1]!;
  });
  return line;
}
