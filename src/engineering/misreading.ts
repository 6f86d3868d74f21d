import type { Fraction } from "../quantity/si.ts";

/** How often camera surveys judge a pipe rightly. Poor is a grade from `poorFrom` up. */
export interface Misreading {
  /** Chance that a poor pipe is found poor. */
  readonly poorFound: Fraction;
  /** Chance that a pipe that is not poor is called poor. */
  readonly falsePoor: Fraction;
  readonly poorFrom: number;
}

/**
 * Chance that a pipe is truly poor after one survey, by Bayes' rule.
 *
 *   seen poor: f·π/(f·π + e·(1 − π))    seen not poor: (1 − f)·π/((1 − f)·π + (1 − e)·(1 − π))
 *
 * Source of f = 0.80 and e = 0.15: Structure and Infrastructure Engineering, doi 10.1080/15732479.2017.1356858,
 * abstract. They are for sewer mains; that laterals are read as well is an assumption.
 *
 * @param poorShare π, the share of pipes like this one that are poor
 */
export function trulyPoor(seenPoor: boolean, poorShare: Fraction, reading: Misreading): number {
  verifyReading(reading);
  verifyShare(poorShare);
  const { poorFound, falsePoor } = reading;
  const poor = (seenPoor ? poorFound : 1 - poorFound) * poorShare;
  const rest = (seenPoor ? falsePoor : 1 - falsePoor) * (1 - poorShare);
  // Neither could have been seen (a sure survey of a sure cohort): the cohort stands.
  return poor + rest === 0 ? poorShare : poor / (poor + rest);
}

/**
 * The share truly poor behind a share seen poor, (seen − e)/(f − e), kept within 0 … 1.
 *
 * Source: Rogan and Gladen's estimator (American Journal of Epidemiology 107, 1978), from memory, arithmetic checked.
 * Holds for: many pipes. A share seen below e comes out as 0, which says only that it is small.
 */
export function poorBehindSeen(seenShare: Fraction, reading: Misreading): number {
  verifyReading(reading);
  verifyShare(seenShare);
  const { poorFound, falsePoor } = reading;
  return Math.min(1, Math.max(0, (seenShare - falsePoor) / (poorFound - falsePoor)));
}

/** A survey that finds poor pipes no more often than it cries wolf says nothing. */
function verifyReading({ poorFound, falsePoor }: Misreading): void {
  if (!(falsePoor >= 0 && poorFound > falsePoor && poorFound <= 1))
    throw new RangeError(`a survey needs 0 ≤ false poor < poor found ≤ 1, got ${falsePoor}, ${poorFound}`);
}

function verifyShare(share: number): void {
  if (!(share >= 0 && share <= 1)) throw new RangeError(`a share lies in 0 … 1, got ${share}`);
}
