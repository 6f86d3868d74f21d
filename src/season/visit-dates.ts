import { type CrewKind, crewKinds } from "../columns/plan-columns.ts";
import { isoDate } from "../quantity/calendar.ts";
import { type Day, day, type Minutes, minutes } from "../quantity/si.ts";
import type { SeasonCalendar } from "../reference/season-days.ts";
import type { WorkSteps } from "../reference/work-steps.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { visitKeys } from "./plan-sheet.ts";
import type { PlannedProgram } from "./planned-program.ts";
import type { SeasonPlan } from "./season-calendar.ts";
import { weekdayOf } from "./work-days.ts";

/** A crew at a lateral, on the day that the calendar gives it in the expected weather. */
export interface DatedVisit {
  /** Row of the lateral in the planned table. */
  readonly row: number;
  readonly district: string;
  readonly crew: CrewKind;
  readonly on: Day;
  /** The last day of a visit longer than a shift; null when the season ends first. */
  readonly until: Day | null;
  /** The last day on which occupants can be told in time. */
  readonly noticeBy: Day;
  /** Minutes occupants are without water; 0 where they are not. */
  readonly outage: Minutes;
}

/** How the days of notice are counted. */
export type NoticeRule = Pick<WorkSteps, "noticeDays" | "noticeCountsIn">;

/**
 * The last day to give notice of a visit: so many calendar days before it, or so many days of the working week that are no holiday.
 * Days that weather takes or a blackout closes are working days here: people are at their desks and doors on them.
 */
export function noticeBy(
  visit: Day,
  { noticeDays, noticeCountsIn }: NoticeRule,
  calendar: SeasonCalendar,
): Day {
  switch (noticeCountsIn) {
    case "calendar days":
      return day(visit - noticeDays);
    case "working days": {
      const holidays = new Set(calendar.holidays.map((each) => each.day));
      let left = noticeDays;
      let on = visit;
      while (left > 0) {
        on = day(on - 1);
        if (calendar.workingWeek.includes(weekdayOf(on)) && !holidays.has(isoDate(on))) left--;
      }
      return on;
    }
    default:
      return noticeCountsIn satisfies never;
  }
}

/** `1 calendar day`, `3 working days`. */
export const describeNotice = ({ noticeDays, noticeCountsIn }: NoticeRule): string =>
  `${noticeDays} ${noticeDays === 1 ? noticeCountsIn.replace(/s$/, "") : noticeCountsIn}`;

/** Every visit that the calendar begins in the season: by district, day, then lateral. Visits that slip out of the season have no date. */
export function datedVisits(
  { laterals, materials, basis }: Pick<PlannedProgram, "laterals" | "materials" | "basis">,
  { calendars: { expected } }: SeasonPlan,
): readonly DatedVisit[] {
  const { calendar, steps } = basis;
  if (calendar === null) throw new RangeError("datedVisits: a program without a calendar");
  const visits = expected.districts.flatMap(({ district, crews }) =>
    crews.flatMap(({ crew, dated }) =>
      dated.flatMap(({ rows, from, to }) => {
        const by = noticeBy(from, steps, calendar);
        return rows.map(
          (row): DatedVisit => ({
            row,
            district,
            crew,
            on: from,
            until: to,
            noticeBy: by,
            outage: minutes(numberAt(materials, visitKeys(crew).outage, row)),
          }),
        );
      }),
    ),
  );
  const ids = new Map(visits.map(({ row }) => [row, textAt(laterals, "lateral", row)]));
  const before = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
  return visits.sort(
    (a, b) =>
      before(a.district, b.district) ||
      a.on - b.on ||
      before(ids.get(a.row)!, ids.get(b.row)!) ||
      crewKinds.indexOf(a.crew) - crewKinds.indexOf(b.crew),
  );
}

/** The first visit to each lateral, by row: before it occupants are told. */
export function firstVisits(visits: readonly DatedVisit[]): ReadonlyMap<number, DatedVisit> {
  const first = new Map<number, DatedVisit>();
  for (const visit of visits) {
    const known = first.get(visit.row);
    if (known === undefined || visit.on < known.on) first.set(visit.row, visit);
  }
  return first;
}
