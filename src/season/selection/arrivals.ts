import type { Filling } from "./fillings.ts";

/**
 * A limited kind of crew that works whole days: it comes to a district once for all its visits there, and works a whole number of days in
 * each. What its coming takes is charged with the opening of the district to it; the days themselves are kept by the core (see coreModel).
 */
export interface Arrival {
  /** Which kind, by the season's own count of crews. */
  readonly crew: number;
  /** The part of a day each offer takes of it, see visitShares; 0 where it does not come. */
  readonly shares: Float64Array;
  /** What its coming to a district takes of each entry of the problem's minutes. */
  readonly takes: readonly number[];
  /** By district: 1 where it is in any case, what that takes being off already. */
  readonly isThere: Uint8Array;
  /** Days there are for visits and for coming to districts. */
  readonly days: number;
  /** Of those days, what coming to a district takes. */
  readonly mobilisation: number;
  /** Ways of counting its days; those with a district are kept in it alone. */
  readonly fillings: readonly { readonly filling: Filling; readonly district: number | null }[];
  /** Shares of visits that are done, by district. */
  readonly done: readonly (readonly number[])[];
  /** Days as judged over days as counted, by district; 1 where nothing is judged. */
  readonly ratio: Float64Array;
}

/** Kinds of crew each offer brings, as bits of a number. */
export function bringsOf(arrivals: readonly Arrival[], offers: number): Uint8Array {
  const brings = new Uint8Array(offers);
  for (const [kind, { shares }] of arrivals.entries())
    for (let j = 0; j < offers; j++) if (shares[j]! > 0) brings[j]! |= 1 << kind;
  return brings;
}

/** Kinds of crew that come to each district for these offers, as bits; those that are there anyway are not among them. */
export function comingTo(
  arrivals: readonly Arrival[],
  chosen: Int32Array,
  district: Uint32Array,
  districts: number,
): Uint8Array {
  const coming = new Uint8Array(districts);
  for (const [kind, { shares, isThere }] of arrivals.entries())
    for (let l = 0; l < chosen.length; l++) {
      const d = district[l]!;
      if (chosen[l]! >= 0 && isThere[d] === 0 && shares[chosen[l]!]! > 0) coming[d]! |= 1 << kind;
    }
  return coming;
}
