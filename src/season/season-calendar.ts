import { type CrewKind, crewKinds } from "../columns/plan-columns.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { type CrewCalendar, planCalendar } from "./calendar.ts";
import { type DistrictWork, packDistricts } from "./day-packing.ts";
import { waitForMain } from "./main-first.ts";
import { mannedSets } from "./manned-sets.ts";
import type { PlannedProgram } from "./planned-program.ts";
import { heldBackIn, isOpen, isVisitOver, standingAt } from "./tracking.ts";
import { visitKeys } from "./visit-keys.ts";
import { EXPECTED, type Weather } from "./work-days.ts";

/** What-if weathers shown beside the expected one. */
export const weathers = [
  { key: "expected", words: "expected weather", weather: EXPECTED },
  { key: "one_more", words: "one more day lost a month", weather: { times: 1, more: 1 } },
  { key: "twice", words: "twice the days lost", weather: { times: 2, more: 0 } },
] as const satisfies readonly { key: string; words: string; weather: Weather }[];
export type WeatherKey = (typeof weathers)[number]["key"];

/** A program's season: its crews' work packed into days, and the days put into the calendar. */
export interface SeasonPlan {
  readonly work: readonly DistrictWork[];
  readonly calendars: Readonly<Record<WeatherKey, CrewCalendar>>;
  readonly shiftMinutes: number;
  /** Inflation sets that a lining crew has people for. */
  readonly sets: number;
  /** Laterals whose visit keeps occupants without water longer than the limit. */
  readonly longOutages: readonly string[];
  /** Laterals whose visit cannot be opened and closed within the hours of work of one day. */
  readonly overHours: readonly string[];
  /** Laterals of the plan that are not in the calendar: not chosen, or not to be scheduled yet. */
  readonly leftOut: number;
  /** Those that nobody is sent to before a cross-bore is made safe, by id; of a season, of the whole program. */
  readonly heldBack: readonly string[];
  /** Visits of a saved season that are over since it was selected: they keep their days, so that no other's date moves. */
  readonly keptOver: number;
}

/**
 * Packs and schedules the program; null where program.json gives no calendar.
 *
 * @param rows of the laterals to be worked on: a selection; without it all that may be scheduled, of a saved season all that keep its days
 * @param over what becomes of visits that are over: a saved season keeps the days of those that it gave days
 */
export function planSeason(
  program: PlannedProgram,
  rows: readonly number[] = program.ofSeason === undefined ? schedulable(program) : inTheDays(program),
  over: "left out" | "kept" = program.ofSeason === undefined ? "left out" : "kept",
): SeasonPlan | null {
  const { laterals, materials, basis } = program;
  const { calendar, seasonDays, steps } = basis;
  if (calendar === null) return null;
  const sets = (crew: CrewKind): number => mannedSets(crew, steps);
  const wasOver = (row: number, crew: CrewKind) =>
    program.overWhenSaved?.get(textAt(laterals, "lateral", row))?.includes(crew) === true;
  const isKept = (row: number, crew: CrewKind) => over === "kept" && !wasOver(row, crew);
  const isOver = (row: number, crew: CrewKind) => isVisitOver(laterals, row, crew) && !isKept(row, crew);
  const work = packDistricts(program, rows, basis, sets, isOver);
  const scheduled = (weather: Weather) => planCalendar(work, calendar, seasonDays, weather);
  const where = (part: "whole" | "outage", limit: number): readonly string[] =>
    rows
      .filter((row) =>
        crewKinds.some(
          (crew) => !isOver(row, crew) && numberAt(materials, visitKeys(crew)[part], row) > limit,
        ),
      )
      .map((row) => textAt(laterals, "lateral", row))
      .sort();
  const MINUTES_PER_HOUR = 60;
  return {
    work,
    shiftMinutes: steps.shiftMinutes,
    calendars: Object.fromEntries(weathers.map(({ key, weather }) => [key, scheduled(weather)])) as Record<
      WeatherKey,
      CrewCalendar
    >,
    sets: sets("lining"),
    longOutages: where("outage", steps.longestOutageMinutes),
    overHours: where("whole", (steps.workHours.to - steps.workHours.from) * MINUTES_PER_HOUR),
    leftOut: laterals.rows - rows.length,
    heldBack: heldBackIn(program),
    keptOver: crewKinds.reduce(
      (count, crew) =>
        count + rows.filter((row) => isKept(row, crew) && isVisitOver(laterals, row, crew)).length,
      0,
    ),
  };
}

/** Rows that may be scheduled: all where the plan does not say, but for those that are done, refused or held back or whose main comes first and not in this season. */
export const schedulable = (program: PlannedProgram): readonly number[] =>
  inTheDays(program).filter((row) => isOpen(standingAt(program.laterals, row)));

/**
 * The same with what is done and refused: a saved season keeps the days it was planned with, so that the dates of the others do not
 * move with every status that is recorded. What is held back has no day in any season.
 */
function inTheDays({ laterals, basis }: PlannedProgram): readonly number[] {
  const waits = (row: number) => {
    const standing = standingAt(laterals, row);
    return (
      standing === "held back" ||
      (isOpen(standing) &&
        waitForMain(laterals, row, textAt(laterals, "treatment", row), basis).kind === "not this season")
    );
  };
  const rows = Array.from({ length: laterals.rows }, (_, row) => row).filter((row) => !waits(row));
  const column = laterals.columns.get("may_be_scheduled");
  // 0 is no; what is not known may be.
  return column?.kind === "number" ? rows.filter((row) => column.values[row] !== 0) : rows;
}
