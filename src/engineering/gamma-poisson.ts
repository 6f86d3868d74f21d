import type { Fraction } from "../quantity/si.ts";
import type { Band } from "./band.ts";
import { gammaQuantile } from "./incomplete-gamma.ts";

/**
 * What is believed of a lateral's blockage rate before its own record is read: the mean of its cohort, and how many years of
 * watching one lateral that belief is worth. As a gamma distribution: shape mean·strength, rate strength.
 */
export interface RatePrior {
  /** Blockages per lateral and year. */
  readonly mean: number;
  readonly strengthYears: number;
}

/** What the city's record says of one lateral. Backups and calls are evidence of blockage only: they never touch the chance of collapse. */
export interface BlockageRecord {
  /** Blockages confirmed by a crew or a backup. */
  readonly backups: number;
  /** Calls that led to no confirmed backup; a call about a counted backup is not counted again. */
  readonly otherCalls: number;
  /** Years the record covers. */
  readonly years: number;
}

/** A blockage rate, as a gamma distribution. */
export interface BlockageRate {
  readonly shape: number;
  /** Years. */
  readonly rate: number;
}

/**
 * The rate after the record is read, by the conjugate update of a Poisson rate.
 *
 *   shape = m·s + n ,   rate = s + T ,   n = backups + w·other calls
 *
 * Source: textbook (Gelman et al., Bayesian Data Analysis, section 2.6), from memory, arithmetic checked.
 * Holds for: blockages that come singly at a steady rate. Counting a call as the share w of a blockage is an approximation of ours.
 *
 * @param callShare w, the share of other calls that were blockages; a named assumption
 */
export function updateBlockageRate(
  prior: RatePrior,
  record: BlockageRecord,
  callShare: Fraction,
): BlockageRate {
  const { mean, strengthYears } = prior;
  const { backups, otherCalls, years } = record;
  if (!(mean > 0 && strengthYears > 0 && Number.isFinite(mean * strengthYears)))
    throw new RangeError(
      `a rate prior needs mean and strength above 0, got ${mean} a year, ${strengthYears} years`,
    );
  if (!(backups >= 0 && otherCalls >= 0 && years >= 0 && callShare >= 0 && callShare <= 1))
    throw new RangeError(
      `updateBlockageRate needs counts and years of 0 or more and a share in 0 … 1, got ${backups}, ${otherCalls}, ${years}, ${callShare}`,
    );
  return { shape: mean * strengthYears + backups + callShare * otherCalls, rate: strengthYears + years };
}

/** Mean rate per year, and the central interval that holds it with this probability. */
export function rateBand({ shape, rate }: BlockageRate, level: Fraction): Band {
  verifyLevel(level);
  const best = shape / rate;
  // Below a shape of about 0.1 the mean lies above nearly all of the distribution: the bound is then the mean.
  return {
    least: Math.min(best, gammaQuantile((1 - level) / 2, shape, rate)),
    best,
    most: Math.max(best, gammaQuantile((1 + level) / 2, shape, rate)),
  };
}

/**
 * Probability of at least one blockage in the coming year, the unknown rate averaged out: 1 − (r/(r + 1))^a, with the chances
 * at both ends of the rate's interval.
 *
 * Source: negative binomial with count 0, the predictive distribution of the same textbook section.
 */
export function blockageChance(estimate: BlockageRate, level: Fraction): Band {
  verifyLevel(level);
  const { shape, rate } = estimate;
  const best = -Math.expm1(-shape * Math.log1p(1 / rate));
  const { least, most } = rateBand(estimate, level);
  return {
    least: Math.min(best, -Math.expm1(-least)),
    best,
    most: Math.max(best, -Math.expm1(-most)),
  };
}

export type CohortPrior =
  | { readonly kind: "prior"; readonly prior: RatePrior; readonly laterals: number; readonly events: number }
  | { readonly kind: "too little"; readonly laterals: number; readonly events: number };

/** The least a cohort must show before its own record makes the prior. Ours. */
export const ENOUGH_FOR_PRIOR = { laterals: 30, events: 5 } as const;

/**
 * The prior of a cohort from its own record, by moments: the mean is all events over all years; what the counts scatter beyond
 * chance is the spread of rates between laterals.
 *
 *   m = Σn/ΣT ,   σ² = (Σ(n − m·T)² − Σn)/ΣT² ,   s = m/σ²
 *
 * Source: moment estimate of a gamma–Poisson mixture (empirical Bayes), from memory; recovered from simulated records in a test.
 * Where the counts scatter no more than chance, or hardly, s would run away: it is at most the years the cohort was watched.
 */
export function priorOfCohort(events: ArrayLike<number>, years: ArrayLike<number>): CohortPrior {
  if (events.length !== years.length)
    throw new RangeError(
      `priorOfCohort needs a count and years for each, got ${events.length}, ${years.length}`,
    );
  let laterals = 0;
  let sumEvents = 0;
  let sumYears = 0;
  for (let i = 0; i < events.length; i++) {
    if (!(events[i]! >= 0 && years[i]! >= 0 && Number.isFinite(events[i]! + years[i]!)))
      throw new RangeError(
        `priorOfCohort needs counts and years of 0 or more, got ${events[i]}, ${years[i]}`,
      );
    if (years[i]! > 0) laterals++;
    else if (events[i]! > 0) throw new RangeError(`priorOfCohort: ${events[i]} events in 0 years`);
    sumEvents += events[i]!;
    sumYears += years[i]!;
  }
  if (laterals < ENOUGH_FOR_PRIOR.laterals || sumEvents < ENOUGH_FOR_PRIOR.events)
    return { kind: "too little", laterals, events: sumEvents };
  const mean = sumEvents / sumYears;
  let scatter = -sumEvents;
  let squares = 0;
  for (let i = 0; i < events.length; i++) {
    scatter += (events[i]! - mean * years[i]!) ** 2;
    squares += years[i]! ** 2;
  }
  const variance = scatter / squares;
  const strengthYears = variance > 0 ? Math.min(mean / variance, sumYears) : sumYears;
  return { kind: "prior", prior: { mean, strengthYears }, laterals, events: sumEvents };
}

function verifyLevel(level: Fraction): void {
  if (!(level > 0 && level < 1))
    throw new RangeError(`a credible interval needs a level in 0 … 1, got ${level}`);
}
