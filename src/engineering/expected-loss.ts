import type { Cents, Fraction } from "../quantity/si.ts";
import { type Band, verifyBand } from "./band.ts";
import { type FailureMode, failureModes } from "./failure-probability.ts";
import { annualOfPresent, presentOfAnnual, presentOfFuture } from "./present-worth.ts";
import { wholePower } from "./whole-power.ts";

/** What failures cost. Plain data of `shared/failure-costs.json` or the city's own. */
export interface FailureCosts {
  /** Emergency dig-up by kind of surface over the pipe. */
  readonly digUp: Readonly<Record<string, Cents>>;
  /** Claim for sewage in a building. */
  readonly backupClaim: Cents;
  /** Clean-up, report and fine of sewage that reaches the open. */
  readonly spill: Cents;
  /** Crew called out to clear a blockage. */
  readonly clearing: Cents;
  /** Chance that a structural failure, and a blockage, backs up into the building; and that it spills outside. */
  readonly backsUp: Readonly<Record<"structural" | "blockage", Fraction>>;
  readonly spills: Readonly<Record<"structural" | "blockage", Fraction>>;
}

/** One part of what a failure costs: `times` is its chance, given the failure, or 1. */
export interface CostPart {
  readonly what: "emergency dig-up" | "clearing" | "backup claim" | "spill" | "treatment of infiltration";
  readonly amount: Cents | number;
  readonly times: number;
}

/**
 * What one failure of a mode is expected to cost, part by part. Infiltration costs its extra transport and treatment for a year.
 *
 * @param surface kind of surface over the pipe, one of the keys of `digUp`
 * @param treatmentPerYear cents a year of the lateral's infiltration
 */
export function costOfFailure(
  mode: FailureMode,
  surface: string,
  treatmentPerYear: number,
  costs: FailureCosts,
): readonly CostPart[] {
  switch (mode) {
    case "structural": {
      const digUp = costs.digUp[surface];
      if (digUp === undefined)
        throw new RangeError(`costOfFailure: no dig-up cost for ${JSON.stringify(surface)}`);
      return [{ what: "emergency dig-up", amount: digUp, times: 1 }, ...damage(mode, costs)];
    }
    case "blockage":
      return [{ what: "clearing", amount: costs.clearing, times: 1 }, ...damage(mode, costs)];
    case "infiltration":
      return costOfTreatment(treatmentPerYear);
    default:
      return mode satisfies never;
  }
}

/** Of infiltration: its extra transport and treatment for a year. */
export const costOfTreatment = (treatmentPerYear: number): readonly CostPart[] => [
  { what: "treatment of infiltration", amount: treatmentPerYear, times: 1 },
];

const damage = (mode: "structural" | "blockage", costs: FailureCosts): readonly CostPart[] => [
  { what: "backup claim", amount: costs.backupClaim, times: costs.backsUp[mode] },
  { what: "spill", amount: costs.spill, times: costs.spills[mode] },
];

/** Σ amount·chance in cents, not rounded: an expected value is compared and summed, never printed as a bid line. */
export const sumParts = (parts: readonly CostPart[]): number =>
  parts.reduce((sum, { amount, times }) => sum + amount * times, 0);

/**
 * Expected loss in the coming year, Σ p·C over the modes, in cents, not rounded. Each mode keeps its own probability and cost.
 *
 * Source: expected cost = Σ P·C, textbook (City and university guidance multiplies the same two). Holds for: at most one failure of
 * a mode a year; the bounds add up as if all modes were at their bounds together, so they are wide.
 */
export function expectedAnnualLoss(
  chances: Readonly<Record<FailureMode, Band>>,
  costs: Readonly<Record<FailureMode, number>>,
): Band {
  verifyChances(chances);
  let least = 0;
  let best = 0;
  let most = 0;
  for (const mode of failureModes) {
    const chance = chances[mode];
    const cost = costs[mode];
    if (!(cost >= 0)) throw new RangeError(`a ${mode} failure needs a cost of 0 or more, got ${cost}`);
    least += chance.least * cost;
    best += chance.best * cost;
    most += chance.most * cost;
  }
  return { least, best, most };
}

function verifyChances({ structural, blockage, infiltration }: Readonly<Record<FailureMode, Band>>): void {
  verifyBand(structural, "the chance of structural failure", 0, 1);
  verifyBand(blockage, "the chance of blockage failure", 0, 1);
  verifyBand(infiltration, "the chance of infiltration failure", 0, 1);
}

/**
 * Present worth of a failure that happens once, some time within the horizon.
 *
 *   Σ [S(t − 1) − S(t)]·C/(1 + i)^t ,   t = 1 … N
 *
 * Source: expected cost over the years of first failure, end-of-year, textbook. Holds for: one failure, then renewed.
 *
 * @param surviving S(0), S(1), … S(N): chances of having no failure yet, falling
 */
export function presentOfFirstFailure(cost: number, surviving: readonly number[], rate: Fraction): number {
  if (!(cost >= 0)) throw new RangeError(`presentOfFirstFailure needs a cost of 0 or more, got ${cost}`);
  let sum = 0;
  for (let t = 1; t < surviving.length; t++) {
    const before = surviving[t - 1]!;
    const now = surviving[t]!;
    if (!(now >= 0 && now <= before && before <= 1))
      throw new RangeError(`survival must fall from 1 towards 0, got ${before} then ${now} in year ${t}`);
    sum += (before - now) * cost * presentOfFuture(rate, t);
  }
  return sum;
}

/** S(0) … S(N) at one chance a year: (1 − p)^t. */
export function survivingAt(chance: Fraction, years: number): readonly number[] {
  if (!(chance >= 0 && chance <= 1 && Number.isInteger(years) && years >= 0))
    throw new RangeError(`survivingAt needs a chance in 0 … 1 and whole years, got ${chance}, ${years}`);
  return Array.from({ length: years + 1 }, (_, t) => (1 - chance) ** t);
}

/**
 * The same at one chance a year, summed in closed form: the terms of {@link presentOfFirstFailure} with S(t) = (1 − p)^t are geometric.
 *
 *   C·p·v·(1 − q^N)/(1 − q) ,   v = 1/(1 + i) ,   q = (1 − p)·v
 *
 * Source: sum of a geometric series. At 1 − q = 0 (no chance, no rate) the sum is N·C·p·v.
 *
 * @param v worth today of 1 in a year, which is the same for all laterals
 */
export function presentOfSteadyFailure(cost: number, chance: number, years: number, v: number): number {
  if (!(cost >= 0 && chance >= 0 && chance <= 1 && Number.isInteger(years) && years >= 0))
    throw new RangeError(
      `presentOfSteadyFailure needs a cost of 0 or more, a chance in 0 … 1 and whole years, got ${cost}, ${chance}, ${years}`,
    );
  return steadyFailure(cost, chance, years, v);
}

function steadyFailure(cost: number, chance: number, years: number, v: number): number {
  const q = (1 - chance) * v;
  return cost * chance * v * (q === 1 ? years : (1 - wholePower(q, years)) / (1 - q));
}

/** A present worth as a level amount a year over the horizon. */
export const asYearly = (present: number, years: number, rate: Fraction): number =>
  present * annualOfPresent(rate, years);

/** Present worth of all modes of a lateral left as it is: structural failure once, the others every year. Cents, not rounded. */
export function presentOfDoingNothing(
  chances: Readonly<Record<FailureMode, Band>>,
  costs: Readonly<Record<FailureMode, number>>,
  years: number,
  rate: Fraction,
): Band {
  verifyChances(chances);
  if (!(costs.structural >= 0 && Number.isInteger(years) && years >= 0))
    throw new RangeError(
      `presentOfDoingNothing needs a cost of 0 or more and whole years, got ${costs.structural}, ${years}`,
    );
  return new PresentLoss(chances, costs, factorsOver(years, rate));
}

/** v = 1/(1 + i), and the present worth of 1 a year. */
interface Factors {
  readonly years: number;
  readonly rate: Fraction;
  readonly v: number;
  readonly ofYearly: number;
}

/** The same for all laterals: worked out for each, they took as long as the loss. */
let factors: Factors | null = null;

function factorsOver(years: number, rate: Fraction): Factors {
  if (factors === null || factors.years !== years || factors.rate !== rate)
    factors = { years, rate, v: presentOfFuture(rate, 1), ofYearly: presentOfAnnual(rate, years) };
  return factors;
}

/** Of nearly all laterals the best value alone is asked for: the bounds are worked out when they are. */
class PresentLoss implements Band {
  readonly best: number;
  readonly #chances: Readonly<Record<FailureMode, Band>>;
  readonly #costs: Readonly<Record<FailureMode, number>>;
  readonly #factors: Factors;

  constructor(
    chances: Readonly<Record<FailureMode, Band>>,
    costs: Readonly<Record<FailureMode, number>>,
    factors: Factors,
  ) {
    this.#chances = chances;
    this.#costs = costs;
    this.#factors = factors;
    this.best = this.#at("best");
  }

  get least(): number {
    return this.#at("least");
  }

  get most(): number {
    return this.#at("most");
  }

  #at(bound: keyof Band): number {
    const { structural, blockage, infiltration } = this.#chances;
    const costs = this.#costs;
    const { years, v, ofYearly } = this.#factors;
    return (
      steadyFailure(costs.structural, structural[bound], years, v) +
      blockage[bound] * costs.blockage * ofYearly +
      infiltration[bound] * costs.infiltration * ofYearly
    );
  }
}
