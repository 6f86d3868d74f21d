/** One activity of a network, and those that must be finished before it starts. */
export interface Activity {
  readonly name: string;
  readonly after: readonly string[];
}

/** A network by places of its activities in the list it was made from. */
export interface Network {
  /** Everything stands behind what it waits for. */
  readonly order: readonly number[];
  /** What each waits for. */
  readonly after: readonly (readonly number[])[];
}

/** When activities can and must be finished, by their places; what is between is how long one may be late without the whole being late. */
export interface Schedule {
  readonly earliestFinish: readonly number[];
  readonly latestFinish: readonly number[];
  /** Length of the longest path. */
  readonly total: number;
}

/**
 * How activities hang together, whatever they take: made once, it is scheduled for any durations.
 *
 * @throws RangeError for a name twice, an unknown predecessor or a circle
 */
export function wireNetwork(activities: readonly Activity[]): Network {
  const places = new Map(activities.map(({ name }, place) => [name, place]));
  if (places.size !== activities.length) throw new RangeError("wireNetwork: two activities of the same name");
  const after = activities.map(({ name, after }) =>
    after.map((before) => {
      const place = places.get(before);
      if (place === undefined) throw new RangeError(`wireNetwork: ${name} waits for ${before}, unknown`);
      return place;
    }),
  );
  const order: number[] = [];
  const placed = new Set<number>();
  while (order.length < activities.length) {
    const ready = after.flatMap((before, place) =>
      !placed.has(place) && before.every((each) => placed.has(each)) ? [place] : [],
    );
    if (ready.length === 0) {
      const stuck = activities.filter((_, place) => !placed.has(place)).map(({ name }) => name);
      throw new RangeError(`wireNetwork: a circle among ${stuck.join(", ")}`);
    }
    for (const each of ready) placed.add(each);
    order.push(...ready);
  }
  return { order, after };
}

/**
 * Critical path of a network of activities: those whose earliest finish is the latest.
 *
 *   ES = max EF of those before (0 without) , EF = ES + t
 *   LF = min LS of those after (the total without) , LS = LF − t , float = LF − EF
 *
 * Source: forward and backward pass of the critical path method, J. E. Kelley and M. R. Walker, "Critical-path planning
 * and scheduling", Eastern Joint Computer Conference, 1959. Holds for fixed durations and no limit on crews.
 *
 * @param durations in any unit of time, by place
 * @throws RangeError for a negative duration
 */
export function scheduleNetwork(network: Network, durations: readonly number[]): Schedule {
  const earliestFinish = [...durations];
  finishEarliest(network, earliestFinish);
  const total = earliestFinish.reduce((latest, finish) => Math.max(latest, finish), 0);
  const latestFinish = durations.map(() => total);
  const { order, after } = network;
  for (let i = order.length - 1; i >= 0; i--) {
    const place = order[i]!;
    const latestStart = latestFinish[place]! - durations[place]!;
    for (const before of after[place]!) latestFinish[before] = Math.min(latestFinish[before]!, latestStart);
  }
  return { earliestFinish, latestFinish, total };
}

/**
 * The forward pass alone, which is enough to know how long the whole takes.
 *
 * @param finishes durations; in their place come the earliest finishes
 */
export function finishEarliest({ order, after }: Network, finishes: { [place: number]: number }): void {
  for (let i = 0; i < order.length; i++) {
    const place = order[i]!;
    const takes = finishes[place]!;
    if (!(takes >= 0)) throw new RangeError(`scheduleNetwork: activity ${place} takes ${takes}`);
    const waitsFor = after[place]!;
    let start = 0;
    for (let j = 0; j < waitsFor.length; j++) start = Math.max(start, finishes[waitsFor[j]!]!);
    finishes[place] = start + takes;
  }
}
