import type { SeasonStrip } from "../pictures/season-strip.ts";
import { districtName } from "../quantity/district-name.ts";
import { type DateStyle, showDayOfYear } from "../quantity/show-date.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { SeasonPlan } from "../season/season-calendar.ts";
import { heldBackSaid } from "./held-back.ts";
import { dateCell } from "./number-format.ts";
import type { Cell, SheetModel } from "./sheet-model.ts";

/** The season for the book: the plan of it, and its strip by weeks. */
export interface BookedSeason {
  readonly plan: SeasonPlan;
  readonly strip: SeasonStrip;
}

const DATE_WIDTH = 12;

/** The calendar of crews and districts: crew-days with their bound, finish dates, and a column a week. */
export function calendarSheet({ plan, strip }: BookedSeason, dates: DateStyle, locked = false): SheetModel {
  const { expected, one_more, twice } = plan.calendars;
  const notes = [
    `Crew-days packed into days; "at least": no packing of these visits has fewer (bound L2 of Martello and Toth). ${expected.days} working days, ${expected.lost} expected lost to weather.`,
    "Weeks by their Monday: crew-days worked; m is mobilization only.",
    ...heldBackSaid(plan.heldBack),
    ...keptOverSaid(plan),
  ];
  const finishOf = (of: typeof expected, district: string, crew: string): Cell => {
    const span = of.districts
      .find((each) => each.district === district)
      ?.crews.find((each) => each.crew === crew);
    if (span === undefined) throw new RangeError(`calendarSheet: no ${crew} in ${district}`);
    return span.finish === null ? "after season" : dateCell(span.finish, dates);
  };
  const workOf = (district: string, crew: string) => {
    const work = plan.work
      .find((each) => each.district === district)
      ?.crews.find((each) => each.crew === crew);
    if (work === undefined) throw new RangeError(`calendarSheet: no work of ${crew} in ${district}`);
    return work;
  };
  return {
    name: "Calendar",
    title: "Calendar of crews and districts",
    notes,
    columns: [
      { heading: "District", width: 16 },
      { heading: "Crew", width: 13 },
      { heading: "Visits", width: 8 },
      { heading: "Crew-days", width: 10 },
      { heading: "At least", width: 9 },
      { heading: "Done", width: DATE_WIDTH },
      { heading: "One more day lost a month", width: DATE_WIDTH },
      { heading: "Twice the days lost", width: DATE_WIDTH },
      ...strip.weeks.map((monday) => ({ heading: showDayOfYear(monday, dates), width: 7 })),
    ],
    rows: strip.rows.map(({ district, crew, worked, mobilized }) => {
      const work = workOf(district, crew);
      return [
        districtName(district),
        crew,
        work.visits,
        work.crewDays,
        work.lowerBound,
        finishOf(expected, district, crew),
        finishOf(one_more, district, crew),
        finishOf(twice, district, crew),
        ...worked.map((days, week) => (days > 0 ? days : mobilized[week] === true ? "m" : null)),
      ];
    }),
    frozenColumns: 2,
    pagesWide: 2,
    locked,
  };
}

/** Visits that have days here although they are over. */
export const keptOverSaid = ({ keptOver }: SeasonPlan): readonly string[] =>
  keptOver === 0
    ? []
    : [
        `${showCount(keptOver)} visit(s) are over since the season was selected: they keep their days and crew-days here, so that no other date moves. Select and save it again to plan what is left alone.`,
      ];
