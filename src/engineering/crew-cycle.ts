import { type Minutes, minutes } from "../quantity/si.ts";

/** One visit of a crew, as its day sees it. */
export interface VisitTime {
  /** From set-up to closed access: the critical path of its steps. */
  readonly whole: Minutes;
  /** What of it the crew itself is needed for; the rest it waits, and may work at the next lateral. */
  readonly handsOn: Minutes;
}

/**
 * How far apart a crew's visits can start, with k sets of what a cure ties up (bladder, heat source).
 *
 *   pace = max(hands-on, whole / k)
 *
 * Why: a set is bound for the whole visit, so k sets cannot start visits more often than whole / k; and one crew cannot be
 * in two places, so it cannot start them more often than its hands-on time. For equal visits of the form hands-on, wait,
 * hands-on both can be met: the crew goes round its sets, closing a visit and opening the next, every max(k × hands-on,
 * whole) minutes (a cycle of k visits). With one set it is the whole visit. Holds for visits of about the same length;
 * tests/engineering/crew-cycle.test.ts compares days of unequal visits with a simulation.
 */
export function paceOf({ whole, handsOn }: VisitTime, sets: number): Minutes {
  if (!(Number.isInteger(sets) && sets >= 1)) throw new RangeError(`paceOf: ${sets} sets`);
  return minutes(Math.max(handsOn, whole / sets));
}

/**
 * What the last visit of a day takes longer than the pace: the crew cannot leave before its cure has ended. A day holds
 * visits while the sum of their paces and the longest tail fit its shift.
 */
export const tailOf = (visit: VisitTime, sets: number): Minutes => minutes(visit.whole - paceOf(visit, sets));

/**
 * How many of a crew's sets its people can work: those who watch a cure are not at the next lateral.
 *
 *   sets = min(k, 1 + ⌊(crew − needed) / watching⌋)
 *
 * @param people of the crew
 * @param needed most people at work at once in a visit
 * @param watching people who stay while a cure runs
 */
export function setsManned(sets: number, people: number, needed: number, watching: number): number {
  if (watching === 0) return sets;
  return Math.max(1, Math.min(sets, 1 + Math.floor((people - needed) / watching)));
}
