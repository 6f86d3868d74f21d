import type { SeasonCalendar } from "../../src/reference/season-days.ts";
import type { SeasonRules } from "../../src/season/selection/season-problem.ts";

/** One crew of a kind, all season. */
export const oneCrew = { count: 1, changes: [] } as const;

/** A season of 17 working weeks from a Monday, a crew of each kind, with nothing in its way. */
export const seasonCalendar = (differs: Partial<SeasonCalendar> = {}): SeasonCalendar => ({
  starts: "2026-07-06",
  ends: "2026-10-30",
  workingWeek: ["monday", "tuesday", "wednesday", "thursday", "friday"],
  holidays: [],
  blackouts: [],
  districtOrder: [],
  crews: { preparation: oneCrew, lining: oneCrew, dig: oneCrew, restoration: oneCrew },
  coordinateMetres: null,
  ...differs,
});

/** Rules for the greatest infiltration removed that limit nothing but the money. */
export const seasonRules = (differs: Partial<SeasonRules> = {}): SeasonRules => ({
  budget: 10_000_000,
  reserve: 0,
  objective: { lossAvoided: 0, infiltrationRemoved: 1 },
  crewDays: {},
  districts: {},
  fairShare: 0,
  mobilization: 0,
  mustDo: [],
  mustNot: [],
  onlyAfter: {},
  ...differs,
});
