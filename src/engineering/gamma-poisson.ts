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

/** What is believed of the laterals of a cohort: how often they block beside what a table expects of each. */
export interface FactorPrior {
  /** Blockages over those expected at the table's rates. */
  readonly factor: number;
  /** What that belief is worth, in blockages expected at the table's rates: not years. Over a lateral's rate it is years of watching it. */
  readonly strengthInExpected: number;
}

export type CohortPrior = {
  readonly laterals: number;
  readonly events: number;
  /** Blockages expected at the table's rates. */
  readonly expected: number;
} & ({ readonly kind: "prior"; readonly prior: FactorPrior } | { readonly kind: "too little" });

/** The least of laterals, and of blockages seen or expected, before a cohort's own record makes the prior. Ours. */
export const ENOUGH_FOR_PRIOR = { laterals: 30, events: 5 } as const;

/** What no blockage at all counts as: Jeffreys' prior of a Poisson rate is worth half an event. Textbook, from memory. */
const NONE_SEEN = 0.5;

/**
 * The prior of a cohort from its own record, by moments: the factor is all blockages over all expected; what the counts scatter beyond
 * chance is the spread of factors between laterals.
 *
 *   k = Σn/ΣE ,   σ² = (Σ(n − k·E)² − Σn)/ΣE² ,   s = k/σ²
 *
 * Source: moment estimate of a gamma–Poisson mixture (empirical Bayes), from memory; recovered from simulated records in a test.
 * Where the counts scatter no more than chance, or hardly, s would run away: it is at most what was expected of the cohort.
 *
 * A record says something where much was expected as well as where much was seen. Cut by what was seen alone, a cohort that hardly
 * blocks would never be believed and would get the city's factor.
 */
export function priorOfCohort(events: ArrayLike<number>, expected: ArrayLike<number>): CohortPrior {
  if (events.length !== expected.length)
    throw new RangeError(
      `priorOfCohort needs a count and an expected one for each, got ${events.length}, ${expected.length}`,
    );
  let laterals = 0;
  let sumEvents = 0;
  let sumExpected = 0;
  for (let i = 0; i < events.length; i++) {
    if (!(events[i]! >= 0 && expected[i]! >= 0 && Number.isFinite(events[i]! + expected[i]!)))
      throw new RangeError(
        `priorOfCohort needs counts and expected ones of 0 or more, got ${events[i]}, ${expected[i]}`,
      );
    if (expected[i]! > 0) laterals++;
    else if (events[i]! > 0) throw new RangeError(`priorOfCohort: ${events[i]} events where 0 are expected`);
    sumEvents += events[i]!;
    sumExpected += expected[i]!;
  }
  const found = { laterals, events: sumEvents, expected: sumExpected };
  if (
    laterals < ENOUGH_FOR_PRIOR.laterals ||
    (sumEvents < ENOUGH_FOR_PRIOR.events && sumExpected < ENOUGH_FOR_PRIOR.events)
  )
    return { kind: "too little", ...found };
  const factor = Math.max(NONE_SEEN, sumEvents) / sumExpected;
  let scatter = -sumEvents;
  let squares = 0;
  for (let i = 0; i < events.length; i++) {
    scatter += (events[i]! - factor * expected[i]!) ** 2;
    squares += expected[i]! ** 2;
  }
  const variance = scatter / squares;
  const strengthInExpected = variance > 0 ? Math.min(factor / variance, sumExpected) : sumExpected;
  return { kind: "prior", prior: { factor, strengthInExpected }, ...found };
}

function verifyLevel(level: Fraction): void {
  if (!(level > 0 && level < 1))
    throw new RangeError(`a credible interval needs a level in 0 … 1, got ${level}`);
}
