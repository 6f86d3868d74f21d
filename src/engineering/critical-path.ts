/** One activity of a network: how long it takes and which activities must be finished before it starts. */
export interface Activity {
  readonly name: string;
  /** In any unit of time, the same for all. */
  readonly duration: number;
  readonly after: readonly string[];
}

/** When an activity can and must happen. */
export interface ScheduledActivity {
  readonly name: string;
  readonly duration: number;
  readonly earliestStart: number;
  readonly earliestFinish: number;
  readonly latestStart: number;
  readonly latestFinish: number;
  /** How long it may be late without the whole being late. */
  readonly float: number;
}

export interface Schedule {
  /** In the order given. */
  readonly activities: readonly ScheduledActivity[];
  /** Length of the longest path. */
  readonly total: number;
  /** One longest path, first to last; of several the one whose activities stand first in the list. */
  readonly critical: readonly string[];
}

/**
 * Critical path of a network of activities.
 *
 *   ES = max EF of those before (0 without) , EF = ES + t
 *   LF = min LS of those after (the total without) , LS = LF − t , float = LS − ES
 *
 * Source: forward and backward pass of the critical path method, J. E. Kelley and M. R. Walker, "Critical-path planning
 * and scheduling", Eastern Joint Computer Conference, 1959. Holds for fixed durations and no limit on crews.
 *
 * @throws RangeError for a negative duration, a name twice, an unknown predecessor or a circle
 */
export function schedulePath(activities: readonly Activity[]): Schedule {
  const order = inOrder(activities);
  const finish = new Map<string, number>();
  for (const { name, duration, after } of order)
    finish.set(name, Math.max(0, ...after.map((before) => finish.get(before)!)) + duration);
  const total = Math.max(0, ...finish.values());
  const latest = new Map(order.map(({ name }) => [name, total]));
  for (const { name, duration, after } of order.toReversed())
    for (const before of after)
      latest.set(before, Math.min(latest.get(before)!, latest.get(name)! - duration));
  const scheduled = activities.map(({ name, duration }): ScheduledActivity => {
    const earliestFinish = finish.get(name)!;
    const latestFinish = latest.get(name)!;
    return {
      name,
      duration,
      earliestStart: earliestFinish - duration,
      earliestFinish,
      latestStart: latestFinish - duration,
      latestFinish,
      float: latestFinish - earliestFinish,
    };
  });
  return { activities: scheduled, total, critical: longestPath(activities, finish, total) };
}

/** Back from the end: of those that finish last, the first; then of those it waited for, and so on. */
function longestPath(
  activities: readonly Activity[],
  finish: ReadonlyMap<string, number>,
  total: number,
): readonly string[] {
  const path: string[] = [];
  let at = activities.find(({ name }) => finish.get(name) === total);
  while (at !== undefined) {
    path.unshift(at.name);
    const { after } = at;
    const latest = Math.max(...after.map((before) => finish.get(before)!));
    at = activities.find(({ name }) => after.includes(name) && finish.get(name) === latest);
  }
  return path;
}

/** Every activity behind those it waits for. */
export function inOrder<Step extends Activity>(activities: readonly Step[]): readonly Step[] {
  const names = new Set(activities.map(({ name }) => name));
  if (names.size !== activities.length) throw new RangeError("schedulePath: two activities of the same name");
  for (const { name, duration, after } of activities) {
    if (!(duration >= 0)) throw new RangeError(`schedulePath: ${name} takes ${duration}`);
    const unknown = after.find((before) => !names.has(before));
    if (unknown !== undefined) throw new RangeError(`schedulePath: ${name} waits for ${unknown}, unknown`);
  }
  const ordered: Step[] = [];
  const placed = new Set<string>();
  while (ordered.length < activities.length) {
    const ready = activities.filter(
      ({ name, after }) => !placed.has(name) && after.every((before) => placed.has(before)),
    );
    if (ready.length === 0) {
      const stuck = activities.filter(({ name }) => !placed.has(name)).map(({ name }) => name);
      throw new RangeError(`schedulePath: a circle among ${stuck.join(", ")}`);
    }
    for (const each of ready) placed.add(each.name);
    ordered.push(...ready);
  }
  return ordered;
}
