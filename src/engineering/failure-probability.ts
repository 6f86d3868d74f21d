import type { Fraction } from "../quantity/si.ts";
import { type Band, mapBand, verifyBand } from "./band.ts";
import { type Chain, gradesAfter, withClassZero } from "./markov.ts";
import { type Misreading, trulyPoor } from "./misreading.ts";

/** Structural grades run from 0, no defect, to 5. */
const GRADES = 6;

/** Chance that a pipe seen in one grade fails within so many years: how the wording of the guidelines is taken. */
export interface GradeChance {
  readonly withinYears: number;
  readonly chance: Band;
}

/** How seen grades move on after the survey. */
export interface Wear {
  /** Over grades 1 to 5. */
  readonly chain: Chain;
  /** Chance that a pipe without a defect is so a step later; it leaves for grade 1, as in the forecast. */
  readonly newStays: number;
  /** Years of one step of the chain. */
  readonly yearsPerStep: number;
}

/** Chance of failure in the coming year by grade seen (0 to 5) and whole years since the survey: made once, looked up per lateral. */
export type StructuralChances = readonly (readonly Band[])[];

/** Years after which the table ends; a survey older than that is taken as that old. No camera survey is. */
const OLDEST_SURVEY = 60;

/**
 * Chance of failure in one year at the steady hazard that gives the stated chance within the stated years.
 *
 *   λ = −ln(1 − c)/T ,   p = 1 − e^−λ
 *
 * Holds for: a pipe that stays in its grade. The chance c and the steady hazard are assumptions: the guidelines give words only.
 */
export function yearlyChance({ withinYears, chance }: GradeChance): Band {
  if (!(withinYears > 0)) throw new RangeError(`a chance needs years above 0, got ${withinYears}`);
  verifyBand(chance, "a chance of failure", 0, 1 - 1e-9);
  return mapBand(chance, (c) => -Math.expm1(Math.log1p(-c) / withinYears));
}

/**
 * The chances by grade and age of survey. The grade stands as seen on the day of the survey; after that the network's wear moves
 * it on, so an old survey counts for less. Pipes of one grade and survey date all move alike: the chain never tells one from
 * another, which published evidence says it cannot (J. Hydroinformatics 2018, doi 10.2166/hydro.2018.217).
 *
 * @param grades chances of grades 0 to 5, none lower than the grade before
 */
export function tabulateStructural(grades: readonly GradeChance[], wear: Wear): StructuralChances {
  const yearly = grades.map(yearlyChance);
  verifyRising(yearly);
  if (!(wear.yearsPerStep > 0))
    throw new RangeError(`wear needs years per step above 0, got ${wear.yearsPerStep}`);
  const chain = withClassZero(wear.chain, wear.newStays);
  return yearly.map((_, grade) =>
    Array.from({ length: OLDEST_SURVEY + 1 }, (__, year) =>
      wornChance(grade, year / wear.yearsPerStep, yearly, chain),
    ),
  );
}

/** Mean chance over the grades that a pipe may be in, so many steps of the chain after it was seen in one. Between steps, linear. */
function wornChance(seen: number, at: number, yearly: readonly Band[], chain: Chain): Band {
  const steps = Math.floor(at);
  const before = gradesAfter(
    chain.map((_, grade) => (grade === seen ? 1 : 0)),
    steps,
    chain,
  );
  const after = gradesAfter(before, 1, chain);
  return meanBand(
    before.map((share, i) => share + (at - steps) * (after[i]! - share)),
    yearly,
  );
}

/** Mean of a band a grade over the shares of the grades. */
export function meanBand(shares: readonly number[], bands: readonly Band[]): Band {
  let least = 0;
  let best = 0;
  let most = 0;
  for (let i = 0; i < shares.length; i++) {
    const share = shares[i]!;
    const band = bands[i]!;
    least += share * band.least;
    best += share * band.best;
    most += share * band.most;
  }
  return { least, best, most };
}

/** What one survey says, and of what kind of pipe. */
export interface SeenGrade {
  /** 0 to 5. */
  readonly grade: number;
  readonly yearsSince: number;
  /** Share of pipes like this one that are poor, for the chance that the survey was misread. */
  readonly poorShare: Fraction;
}

/**
 * Chance of structural failure in the coming year. The best value takes the survey at its word; that it may have been misread widens
 * the band: upwards for a pipe not called poor (it may be poor and missed), downwards for one called poor (it may not be).
 *
 * Holds for: relative use. The wording behind it is guidance, since withdrawn from its scheme; never show it as a date.
 */
export function structuralChance(seen: SeenGrade, table: StructuralChances, reading: Misreading): Band {
  const { grade, yearsSince, poorShare } = seen;
  if (!(Number.isInteger(grade) && grade >= 0 && grade < GRADES))
    throw new RangeError(`structuralChance needs a whole grade from 0 to 5, got ${grade}`);
  if (!(yearsSince >= 0))
    throw new RangeError(`structuralChance needs 0 years or more since the survey, got ${yearsSince}`);
  const { poorFrom } = reading;
  const at = Math.min(yearsSince, OLDEST_SURVEY);
  const { least, best, most } = between(table[grade]!, at);
  const poor = trulyPoor(grade >= poorFrom, poorShare, reading);
  if (grade >= poorFrom) {
    const better = between(table[poorFrom - 1]!, at);
    return { least: poor * least + (1 - poor) * better.least, best, most };
  }
  const worse = between(table[poorFrom]!, at);
  return { least, best, most: (1 - poor) * most + poor * worse.most };
}

/**
 * Chance of a lateral nobody has looked into, over the grades it may be in.
 *
 * @param shares probabilities of grades 0 to 5
 */
export function unseenChance(shares: readonly number[], table: StructuralChances): Band {
  verifyShares(shares);
  return meanBand(
    shares,
    table.map((row) => row[0]!),
  );
}

/**
 * The grades an uninspected lateral may be in: its cohort's share of poor pipes, spread over the poor grades as they were found in the
 * city, and the rest likewise. Null where the city has found none of a kind that the share asks for: there is nothing to spread by.
 *
 * @param found number of inspected laterals in grades 0 to 5
 */
export function sharesOfUnseen(
  poorShare: Fraction,
  found: readonly number[],
  poorFrom: number,
): readonly number[] | null {
  if (!(poorShare >= 0 && poorShare <= 1 && found.length === GRADES))
    throw new RangeError(
      `sharesOfUnseen needs a share in 0 … 1 and 6 counts, got ${poorShare}, ${found.length}`,
    );
  const total = (from: number, to: number) => found.slice(from, to).reduce((sum, n) => sum + n, 0);
  const poor = total(poorFrom, GRADES);
  const rest = total(0, poorFrom);
  if ((poorShare > 0 && poor === 0) || (poorShare < 1 && rest === 0)) return null;
  return found.map((n, grade) => {
    if (grade >= poorFrom) return poor === 0 ? 0 : (poorShare * n) / poor;
    return rest === 0 ? 0 : ((1 - poorShare) * n) / rest;
  });
}

/** The three ways a lateral fails, each with its own evidence and its own cost. */
export const failureModes = ["structural", "blockage", "infiltration"] as const;
export type FailureMode = (typeof failureModes)[number];

/**
 * Chance that at least one mode occurs, 1 − Π(1 − p). For display only: costs are summed mode by mode.
 * Holds for: modes that do not move each other, which is not so (roots break pipes and block them); so it is rather too high.
 */
export function anyMode(modes: Readonly<Record<FailureMode, Band>>): Band {
  for (const mode of failureModes) verifyBand(modes[mode], `the chance of ${mode} failure`, 0, 1);
  const any = (of: (band: Band) => number): number =>
    -Math.expm1(failureModes.reduce((sum, mode) => sum + Math.log1p(-of(modes[mode])), 0));
  return { least: any((b) => b.least), best: any((b) => b.best), most: any((b) => b.most) };
}

/** A row of the table at a fractional age of survey, within the table. */
function between(row: readonly Band[], at: number): Band {
  const year = Math.floor(at);
  const a = row[year]!;
  const b = row[Math.min(year + 1, OLDEST_SURVEY)]!;
  const part = at - year;
  return {
    least: a.least + part * (b.least - a.least),
    best: a.best + part * (b.best - a.best),
    most: a.most + part * (b.most - a.most),
  };
}

function verifyRising(yearly: readonly Band[]): void {
  if (yearly.length !== GRADES) throw new RangeError(`grades 0 to 5 need 6 chances, got ${yearly.length}`);
  for (let grade = 1; grade < GRADES; grade++) {
    const better = yearly[grade - 1]!;
    const worse = yearly[grade]!;
    if (!(worse.least >= better.least && worse.best >= better.best && worse.most >= better.most))
      throw new RangeError(`a worse grade must not fail less often: grade ${grade} does`);
  }
}

function verifyShares(shares: readonly number[]): void {
  const sum = shares.reduce((total, share) => total + share, 0);
  if (shares.length !== GRADES || shares.some((share) => !(share >= 0)) || !(Math.abs(sum - 1) <= 1e-9))
    throw new RangeError(`expected probabilities of grades 0 to 5 that sum to 1, got ${shares.join(" ")}`);
}
