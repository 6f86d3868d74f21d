import * as z from "zod";
import { crewKinds } from "../columns/plan-columns.ts";
import { dayFromIso, months, weekdays } from "../quantity/calendar.ts";
import { METRES_PER_FOOT } from "../quantity/factors.ts";
import {
  houseSeasonDays,
  type MainsLined,
  type SeasonCalendar,
  type SeasonDays,
  seasonDaysSchema,
} from "../reference/season-days.ts";
import { asTable, changedSource, checkedTable, overlaid } from "./changed-table.ts";
import type { Fault } from "./settings-faults.ts";
import { list, number, text, whole, words } from "./written-values.ts";

const DAY = "a day that exists, written as 2026-03-01";
const ORDER = "a last day that is not before the first";

// The second line is what to write where the key is left out.
const WEEK =
  'the days on which crews work, a list in square brackets\nWrite "working_week": ["monday", "tuesday", "wednesday", "thursday", "friday"], for example.';
const ONE_OF_EACH = crewKinds.map((crew) => `"${crew}": { "count": 1 }`).join(", ");
const CREWS = `how many crews of each kind there are, a group of keys in braces\nWrite "crews": { ${ONE_OF_EACH} }, for example.`;

const date = z.string(DAY).refine((written) => dayFromIso(written) !== null, DAY);
// Dates written so sort as text.
const span = { from: date, to: date };
const inOrder = ({ from, to }: { readonly from: string; readonly to: string }) => from <= to;
const crews = z.int("how many crews, 0 to 50").min(0, "0 or more").max(50, "50 at the most");

/** `season.calendar` of program.json: when crews work, how many there are, and what they do not work on. */
export const seasonCalendarSchema = z
  .strictObject({
    starts: date,
    ends: date,
    working_week: z.array(words(weekdays), WEEK),
    holidays: list(z.strictObject({ day: date, name: text("the holiday's name") })).optional(),
    /** Events, schools: no work on these days, in one district or in all. */
    blackouts: list(
      z
        .strictObject({ ...span, why: text("why"), district: text("a district").optional() })
        .refine(inOrder, ORDER),
    ).optional(),
    /** In place of the table of expected days. */
    days_lost: z.partialRecord(z.enum(months), whole).optional(),
    mobilisation_days: whole.optional(),
    between_visits: z
      .strictObject({
        average_minutes: whole.optional(),
        park_minutes: whole.optional(),
        detour: number.optional(),
        kilometres_per_hour: number.optional(),
      })
      .optional(),
    /** Of x and y in the city's list; without it travel is the stated average. */
    coordinates_in: words(["m", "ft"]).optional(),
    district_order: list(text("a district")).optional(),
    crews: z.record(
      z.enum(crewKinds),
      z.strictObject({
        count: crews,
        changes: list(z.strictObject({ ...span, count: crews }).refine(inOrder, ORDER)).optional(),
      }),
      CREWS,
    ),
  })
  .refine(({ starts, ends }) => starts <= ends, "a season that ends after it starts");

const NOT_THIS_SEASON = "not this season";
const LINED = `${DAY}, from which the lateral may be worked on, or "${NOT_THIS_SEASON}"`;
const lined = z
  .string(LINED)
  .refine((written) => written === NOT_THIS_SEASON || dayFromIso(written) !== null, LINED);

/** `season.mains_lined` of program.json: from which day work may follow where the main is to be lined first, by lateral or by district. */
export const mainsLinedSchema = z.strictObject({
  laterals: z.record(z.string(), lined).optional(),
  districts: z.record(z.string(), lined).optional(),
});

/** The same as the basis keeps it. */
export function layMains(written: z.infer<typeof mainsLinedSchema> | undefined): MainsLined {
  const days = (given: Readonly<Record<string, string>> = {}) =>
    Object.fromEntries(Object.entries(given).map(([key, on]) => [key, on === NOT_THIS_SEASON ? null : on]));
  return { laterals: days(written?.laterals), districts: days(written?.districts) };
}

type Written = z.infer<typeof seasonCalendarSchema>;

/** The calendar as the basis keeps it; null where the program has none. */
export function layCalendar(written: Written | undefined): SeasonCalendar | null {
  if (written === undefined) return null;
  return {
    starts: written.starts,
    ends: written.ends,
    workingWeek: written.working_week,
    holidays: written.holidays ?? [],
    blackouts: written.blackouts ?? [],
    districtOrder: written.district_order ?? [],
    crews: Object.fromEntries(
      Object.entries(written.crews).map(([crew, { count, changes }]) => [
        crew,
        { count, changes: changes ?? [] },
      ]),
    ),
    coordinateMetres:
      written.coordinates_in === undefined ? null : written.coordinates_in === "ft" ? METRES_PER_FOOT : 1,
  };
}

/** Days lost and spent, with the program's own laid over them. */
export function laySeasonDays(
  settings: { readonly season?: { readonly calendar?: Written | undefined } | undefined },
  faults: Fault[],
): SeasonDays | null {
  const changes = settings.season?.calendar;
  if (changes === undefined) return houseSeasonDays;
  const house = houseSeasonDays;
  const { days_lost, mobilisation_days, between_visits } = changes;
  const at = "season.calendar";
  const changed = (key: string, source: SeasonDays["daysLostSource"], value: unknown) =>
    value === undefined ? source : changedSource(`${at}.${key}`, source, `Changes ${key}.`);
  const table = overlaid(
    overlaid(
      house,
      asTable(
        Object.fromEntries(
          Object.entries({ days_lost, mobilisation_days, between_visits }).filter(
            ([, value]) => value !== undefined,
          ),
        ),
        {},
      ),
    ),
    {
      daysLostSource: changed("days_lost", house.daysLostSource, days_lost),
      mobilisationSource: changed("mobilisation_days", house.mobilisationSource, mobilisation_days),
      betweenVisitsSource: changed("between_visits", house.betweenVisitsSource, between_visits),
    },
  );
  return checkedTable(seasonDaysSchema, table, settings, ["season", "calendar"], {}, faults);
}
