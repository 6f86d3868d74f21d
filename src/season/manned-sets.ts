import type { CrewKind } from "../columns/plan-columns.ts";
import { setsManned } from "../engineering/crew-cycle.ts";
import { timeCrew } from "../plan/crew-time.ts";
import { minutes } from "../quantity/si.ts";
import type { WorkSteps } from "../reference/work-steps.ts";
import type { WorkKind } from "../reference/works.ts";

/** Inflation sets a kind of crew has people for, by the work that asks for the most of them. */
export function mannedSets(crew: CrewKind, steps: WorkSteps): number {
  const { people, sets } = steps.crews[crew];
  // Times of the liner do not change who is needed; any will do.
  const liner = { insertion: minutes(1), cure: minutes(60), "cool-down": minutes(60) };
  const visits = (Object.keys(steps.steps) as WorkKind[]).flatMap((work) =>
    timeCrew([{ work, times: liner, pieces: 1, branches: 0 }], 1, steps).visits.filter(
      (visit) => visit.crew === crew && visit.watching > 0,
    ),
  );
  return Math.min(
    sets,
    ...visits.map(({ mostPeople, watching }) => setsManned(sets, people, mostPeople, watching)),
  );
}
