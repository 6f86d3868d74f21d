import { crewKinds } from "../columns/plan-columns.ts";
import { type Minutes, minutes } from "../quantity/si.ts";
import type { WorkStep, WorkSteps } from "../reference/work-steps.ts";
import type { WorkKind } from "../reference/works.ts";
import { type CrewVisit, type TimedStep, timeVisit } from "./crew-visit.ts";
import { isChanging, minutesOf, type TimedWork } from "./step-minutes.ts";

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
  let known = timed.get(table);
  if (known === undefined || known.size >= MOST_KNOWN) {
    known = { first: new Situation(NONE), size: 0 };
    timed.set(table, known);
  }
  let situation = known.first;
  for (const each of works) {
    situation = situation.with(each.work, table);
    for (const step of situation.changing) situation = situation.taking(minutesOf(step, length, each));
  }
  if (situation.time === null) {
    situation.time = timeWorks(works, length, table);
    known.size++;
  }
  return situation.time;
}

/** A place in the tree of situations: the works, and the minutes of those of their steps that are not the same at every lateral. */
class Situation {
  /** Of the work that was just added: the steps whose minutes depend on the lateral or its liner. */
  readonly changing: readonly WorkStep[];
  readonly #next = new Map<WorkKind | number, Situation>();
  time: CrewTime | null = null;

  constructor(changing: readonly WorkStep[]) {
    this.changing = changing;
  }

  with(work: WorkKind, { steps }: WorkSteps): Situation {
    let found = this.#next.get(work);
    if (found === undefined) {
      found = new Situation(steps[work].filter(isChanging));
      this.#next.set(work, found);
    }
    return found;
  }

  taking(minutes: Minutes): Situation {
    let found = this.#next.get(minutes);
    if (found === undefined) {
      found = new Situation(NONE);
      this.#next.set(minutes, found);
    }
    return found;
  }
}

const NONE: readonly WorkStep[] = [];

/**
 * Crew times by situation. Steps take whole minutes, so the same works of the same minutes come again and again: three thousand times in
 * a million laterals. Worked out anew for each offer they took a tenth of the plan's time; found by a text of all minutes, an eighth of
 * what was left.
 */
const timed = new WeakMap<WorkSteps, { readonly first: Situation; size: number }>();
const MOST_KNOWN = 20_000;

function timeWorks(works: readonly TimedWork[], length: number, table: WorkSteps): CrewTime {
  const visits = crewKinds.flatMap((crew) => {
    const visit = timeVisit(crew, works, length, table);
    return visit === null ? [] : [visit];
  });
  const sum = (of: (visit: CrewVisit) => number) => visits.reduce((total, visit) => total + of(visit), 0);
  return {
    visits,
    steps: visits.flatMap(({ steps }) => steps),
    total: minutes(sum(({ whole }) => whole)),
    outage: minutes(Math.max(0, ...visits.map(({ outage }) => outage))),
  };
}
