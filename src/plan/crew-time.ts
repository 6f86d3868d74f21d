import { type Minutes, minutes } from "../quantity/si.ts";
import type { WorkSteps } from "../reference/work-steps.ts";
import { type CrewVisit, type TimedStep, timeVisit } from "./crew-visit.ts";
import type { TimedWork } from "./step-minutes.ts";
import { wiredVisits } from "./wired-visit.ts";

export interface CrewTime {
  /** One for each kind of crew that comes, in the order they come. */
  readonly visits: readonly CrewVisit[];
  /** Steps of all visits, in order. */
  readonly steps: readonly TimedStep[];
  /** Visits one after another. */
  readonly total: Minutes;
  /** The longest outage of a visit. */
  readonly outage: Minutes;
}

/**
 * Time each kind of crew is on the lateral: the critical path of its steps. Steps worked along the pipe take longer in a
 * longer one; what is worked out for a work's liner comes on top of a step's own minutes. A step of each piece is done as
 * often as there are sections. A work begins when the one before it at this lateral has ended, as far as the same kind of
 * crew does both; shared set-ups and pack-ups are done once, in the time of the longest, before and after all of them.
 *
 * @param length of the lateral in m; 0 where it is not known: then only the minutes that no length changes count
 */
export function timeCrew(works: readonly TimedWork[], length: number, table: WorkSteps): CrewTime {
  const visits: CrewVisit[] = [];
  let total = 0;
  for (const wired of wiredVisits(works, table)) {
    const visit = timeVisit(wired, works, length);
    visits.push(visit);
    total += visit.whole;
  }
  return new VisitsTogether(visits, minutes(total));
}

class VisitsTogether implements CrewTime {
  readonly visits: readonly CrewVisit[];
  readonly total: Minutes;

  constructor(visits: readonly CrewVisit[], total: Minutes) {
    this.visits = visits;
    this.total = total;
  }

  get steps(): readonly TimedStep[] {
    return this.visits.flatMap(({ steps }) => steps);
  }

  get outage(): Minutes {
    return minutes(Math.max(0, ...this.visits.map(({ outage }) => outage)));
  }
}
