import type { CrewKind } from "../columns/plan-columns.ts";
import type { CrewVisit } from "../plan/crew-visit.ts";
import type { Offer } from "../plan/plan-lateral.ts";

/** Minutes of each kind of crew's visit, from set-up to closed access: a column of the offers, and of the materials. */
export const visitMinutesKey = (crew: CrewKind) => `visit_minutes:${crew}` as const;

/** Columns of the takeoff that say what one kind of crew does at a lateral. */
export const visitKeys = (crew: CrewKind) =>
  ({
    whole: visitMinutesKey(crew),
    handsOn: `hands_on_minutes:${crew}`,
    outage: `outage_minutes:${crew}`,
  }) as const;

/** The visit of a kind of crew; undefined where it does not come. */
export function visitOf({ crewTime }: Offer, crew: CrewKind): CrewVisit | undefined {
  for (const visit of crewTime.visits) if (visit.crew === crew) return visit;
  return undefined;
}
