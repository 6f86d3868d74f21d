import { type CrewKind, crewKinds } from "../columns/plan-columns.ts";
import type { NoticeRule } from "../plan/notice.ts";
import { isoDate } from "../quantity/calendar.ts";
import { type Day, day, type Minutes, minutes } from "../quantity/si.ts";
import type { SeasonCalendar } from "../reference/season-days.ts";
import { numberAt, type Table, textAt } from "../sheet/table.ts";
import { permissionEndAt } from "./permission-ends.ts";
import type { PlannedProgram } from "./planned-program.ts";
import type { SeasonPlan } from "./season-calendar.ts";
import { isOpen, standingAt } from "./tracking.ts";
import { visitKeys } from "./visit-keys.ts";
import { weekdayOf } from "./work-days.ts";

/** A crew at a lateral, on the day that the calendar gives it in the expected weather. */
export interface DatedVisit {
  readonly lateral: string;
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

/** The visits of a calendar with their days. */
export interface VisitDates {
  /** Those begun in the season: by district, day, then lateral. */
  readonly visits: readonly DatedVisit[];
  /** Laterals with a visit that the season ends before: it has no day. */
  readonly undated: readonly string[];
  /** Laterals of which a crew is still at work when the owner's permission has ended, by id; none that are done. */
  readonly unpermitted: readonly UnpermittedVisit[];
}

/** The last visit to a lateral, which is not over when the permission ends. */
export interface UnpermittedVisit {
  readonly lateral: string;
  /** The permission's last day. */
  readonly ends: Day;
  readonly crew: CrewKind;
  readonly on: Day;
  /** As of a {@link DatedVisit}. */
  readonly until: Day | null;
}

export const noVisits: VisitDates = { visits: [], undated: [], unpermitted: [] };

/** Every visit of a calendar in the expected weather. */
export function datedVisits(
  { laterals, materials, basis }: Pick<PlannedProgram, "laterals" | "materials" | "basis">,
  { work, calendars: { expected } }: SeasonPlan,
): VisitDates {
  const { calendar, steps } = basis;
  if (calendar === null) throw new RangeError("datedVisits: a program without a calendar");
  const visits = expected.districts.flatMap(({ district, crews }) =>
    crews.flatMap(({ crew, dated }) =>
      dated.flatMap(({ rows, from, to }) => {
        const by = noticeBy(from, steps, calendar);
        return rows.map(
          (row): DatedVisit => ({
            lateral: textAt(laterals, "lateral", row),
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
  const before = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
  const visitKey = (lateral: string, crew: CrewKind) => `${crew} ${lateral}`;
  const known = new Set(visits.map(({ lateral, crew }) => visitKey(lateral, crew)));
  const undated = new Set<string>();
  for (const { crews } of work)
    for (const { crew, days } of crews)
      for (const { rows } of days)
        for (const row of rows) {
          const lateral = textAt(laterals, "lateral", row);
          if (!known.has(visitKey(lateral, crew))) undated.add(lateral);
        }
  visits.sort(
    (a, b) =>
      before(a.district, b.district) ||
      a.on - b.on ||
      before(a.lateral, b.lateral) ||
      crewKinds.indexOf(a.crew) - crewKinds.indexOf(b.crew),
  );
  return { visits, undated: [...undated].sort(), unpermitted: unpermittedAmong(laterals, visits) };
}

function unpermittedAmong(laterals: Table, visits: readonly DatedVisit[]): readonly UnpermittedVisit[] {
  const last = new Map<string, DatedVisit>();
  for (const visit of visits) {
    const known = last.get(visit.lateral);
    if (known === undefined || lastDayOf(visit) > lastDayOf(known)) last.set(visit.lateral, visit);
  }
  const found: UnpermittedVisit[] = [];
  for (let row = 0; row < laterals.rows; row++) {
    const lateral = textAt(laterals, "lateral", row);
    const visit = last.get(lateral);
    if (visit === undefined || !isOpen(standingAt(laterals, row))) continue;
    const ends = permissionEndAt(laterals, row, textAt(laterals, "treatment", row));
    if (ends === null || lastDayOf(visit) <= ends) continue;
    const { crew, on, until } = visit;
    found.push({ lateral, ends, crew, on, until });
  }
  return found.sort((a, b) => (a.lateral < b.lateral ? -1 : 1));
}

/** What is not done when the season ends is done on a later day than all. */
const lastDayOf = ({ until }: DatedVisit): number => until ?? Number.POSITIVE_INFINITY;

/** The first visit to each lateral, by its id: before it occupants are told. */
export function firstVisits(visits: readonly DatedVisit[]): ReadonlyMap<string, DatedVisit> {
  const first = new Map<string, DatedVisit>();
  for (const visit of visits) {
    const known = first.get(visit.lateral);
    if (known === undefined || visit.on < known.on) first.set(visit.lateral, visit);
  }
  return first;
}
