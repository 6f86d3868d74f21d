/** A visit of the form hands-on, wait, hands-on, in whole minutes. */
export interface SimulatedVisit {
  readonly before: number;
  readonly wait: number;
  readonly after: number;
}

/**
 * A crew's day, one crew with k sets of equipment. A visit binds a set from its start to its end, and the
 * crew does one hands-on piece at a time. It opens visits while sets are free; then closes the one that is ready first
 * and at once opens the next with the same set. Returns the minute the last visit is closed.
 */
export function simulateCrew(visits: readonly SimulatedVisit[], sets: number): number {
  const waiting: { ready: number; after: number }[] = [];
  let next = 0;
  let now = 0;
  const open = (): void => {
    const { before, wait, after } = visits[next++]!;
    now += before;
    waiting.push({ ready: now + wait, after });
  };
  while (next < visits.length && waiting.length < sets) open();
  while (waiting.length > 0) {
    const ready = waiting.findIndex((each) => each.ready <= now);
    if (ready < 0) {
      now++;
      continue;
    }
    now += waiting.splice(ready, 1)[0]!.after;
    if (next < visits.length) open();
  }
  return now;
}
