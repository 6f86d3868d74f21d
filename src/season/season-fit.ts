import { type CrewKind, crewKinds } from "../columns/plan-columns.ts";
import { crewDayHundredths } from "../quantity/crew-days.ts";
import type { Day } from "../quantity/si.ts";
import type { SeasonCalendar, SeasonDays } from "../reference/season-days.ts";
import { crewsOn } from "./calendar.ts";
import type { SeasonPlan } from "./season-calendar.ts";
import { EXPECTED, workDays } from "./work-days.ts";

/** One kind of crew, as a selection counts it and as the calendar packs it. */
export interface CrewFit {
  readonly crew: CrewKind;
  /** Hundredths of a crew-day: visit after visit, no travel, split over days. */
  readonly countedHundredths: number;
  /** Whole crew-days as packed, and those all crews of the kind spend on mobilisation. */
  readonly packed: number;
  readonly mobilized: number;
}

/** A crew that is not done in a district when the season ends. */
export interface Slip {
  readonly district: string;
  readonly crew: CrewKind;
  /** Crew-days not done. */
  readonly left: number;
}

export interface SeasonFit {
  readonly crews: readonly CrewFit[];
  /** Null where the last district is not finished in the season. */
  readonly finish: Day | null;
  readonly slips: readonly Slip[];
}

/** Whether selected work fits the dates and crews of the calendar, in the expected weather; a selection counts minutes, a calendar days. */
export function fitSeason({ work, shiftMinutes, calendars: { expected } }: SeasonPlan): SeasonFit {
  const sum = (crew: CrewKind, part: "visitMinutes" | "crewDays") =>
    work
      .flatMap(({ crews }) => crews.filter((each) => each.crew === crew))
      .reduce((total, each) => total + each[part], 0);
  const spans = expected.districts.flatMap(({ district, crews }) =>
    crews.map((span) => ({ district, ...span })),
  );
  return {
    crews: crewKinds
      .map((crew) => ({
        crew,
        countedHundredths: crewDayHundredths(sum(crew, "visitMinutes"), shiftMinutes),
        packed: sum(crew, "crewDays"),
        mobilized: spans
          .filter((span) => span.crew === crew)
          .reduce((days, { mobilized }) => days + mobilized.length, 0),
      }))
      .filter(({ packed }) => packed > 0),
    finish: expected.finish,
    slips: spans.filter(({ left }) => left > 0).map(({ district, crew, left }) => ({ district, crew, left })),
  };
}

/**
 * Crew-days a calendar has for each kind: over its working days that the expected weather leaves, the crews there are. Mobilisation and
 * waiting for other crews are not taken off: what fits by this may still slip in the calendar.
 */
export function crewDaysOf(calendar: SeasonCalendar, table: SeasonDays): Readonly<Record<CrewKind, number>> {
  const days = workDays(calendar, table, EXPECTED).filter(({ lost }) => !lost);
  return Object.fromEntries(
    crewKinds.map((crew) => [crew, days.reduce((sum, { day }) => sum + crewsOn(crew, day, calendar), 0)]),
  ) as Record<CrewKind, number>;
}
