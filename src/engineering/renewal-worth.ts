import type { Fraction } from "../quantity/si.ts";
import { presentOfFuture } from "./present-worth.ts";

/**
 * Present worth of doing a thing now and again at the end of each of its lives, over a horizon, less the worth of the
 * life left in the last one at the horizon.
 *
 *   PW = Σ_k cost·(1 + i)^(−k·L)  −  cost·(n·L − H)/L·(1 + i)^(−H) ,   k·L < H ,   n = number of times done
 *
 * Source: present-worth comparison of unequal lives with straight-line remaining value, the form of the
 * cost-effectiveness guidelines of 40 CFR 35 subpart E, appendix A (planning period, salvage by straight line). The
 * appendix is named in the sources read, its text was not: from memory, unverified.
 * Holds for: cost in money of today, real rate i, life L and horizon H in years above zero.
 *
 * @returns the unit of `cost`, unrounded
 */
export function renewalWorth(cost: number, life: number, horizon: number, rate: Fraction): number {
  if (!(life > 0 && horizon > 0))
    throw new RangeError(`renewalWorth needs a life and a horizon above 0, got ${life}, ${horizon}`);
  let worth = 0;
  let done = 0;
  while (done * life < horizon) {
    worth += cost * presentOfFuture(rate, done * life);
    done++;
  }
  const leftYears = done * life - horizon;
  return worth - ((cost * leftYears) / life) * presentOfFuture(rate, horizon);
}
