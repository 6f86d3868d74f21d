import type { SampleStyle } from "./city-spec.ts";

const WEEK = ["monday", "tuesday", "wednesday", "thursday", "friday"];

/** An invented season of 2026 with its crews. Holidays are those of the country the city is in the manner of. */
export const seasonCalendar: Readonly<Record<SampleStyle, object>> = {
  us: {
    starts: "2026-04-06",
    ends: "2026-10-30",
    working_week: WEEK,
    holidays: [
      { day: "2026-05-25", name: "Memorial Day" },
      { day: "2026-07-03", name: "Independence Day, kept on Friday" },
      { day: "2026-09-07", name: "Labor Day" },
    ],
    blackouts: [
      { from: "2026-08-17", to: "2026-08-21", why: "school begins", district: "LS-11" },
      { from: "2026-07-20", to: "2026-07-24", why: "river fair", district: "LS-03" },
    ],
    coordinates_in: "ft",
    crews: {
      preparation: { count: 1 },
      lining: { count: 1, changes: [{ from: "2026-07-06", to: "2026-09-25", count: 2 }] },
      dig: { count: 1 },
      restoration: { count: 1 },
    },
  },
  si: {
    starts: "2026-04-07",
    ends: "2026-10-30",
    working_week: WEEK,
    holidays: [
      { day: "2026-05-01", name: "Tag der Arbeit" },
      { day: "2026-05-14", name: "Christi Himmelfahrt" },
      { day: "2026-05-25", name: "Pfingstmontag" },
    ],
    blackouts: [{ from: "2026-09-07", to: "2026-09-11", why: "Altstadtfest", district: "Altstadt" }],
    coordinates_in: "m",
    crews: {
      preparation: { count: 1 },
      lining: { count: 1 },
      dig: { count: 1 },
      restoration: { count: 1 },
    },
  },
};
