import {
  type Chain,
  type ChainVerdict,
  gradesAfter,
  judgeChain,
  withClassZero,
} from "../engineering/markov.ts";

/** Classes of a forecast: 0 new or without a defect, 1 to 5 the grades. */
const CLASSES = 6;

/** How the network wears, from `shared/deterioration.json` or the city's own. */
export interface NetworkWear {
  /** Over grades 1 to 5. */
  readonly chain: Chain;
  /** Chance that a pipe without a defect is so a step later; it leaves for grade 1. An assumption: the published chains start at 1. */
  readonly newStays: number;
  /** A year by assumption where the source does not say. */
  readonly yearsPerStep: number;
  /** A chain whose mean time from grade 1 to 5 is longer than this is no use for planning. */
  readonly uselessAfterYears: number;
}

/** Laterals renewed in a year of the forecast, by the class they are in today. */
export interface Renewal {
  /** 1 is the first year. Renewed at its end: that year they still wear. 0 is before the first year begins. */
  readonly year: number;
  readonly byGrade: readonly number[];
  /** The class they start again in; 0 is new. */
  readonly to: number;
}

/** Expected numbers at the end of a year. */
export interface ForecastYear {
  readonly year: number;
  /** Classes 0 to 5. Not whole: an expected number. */
  readonly expected: readonly number[];
  /** Standard deviation of each number, if the laterals wear each for itself. Neighbours do not quite, so it is too small. */
  readonly spread: readonly number[];
}

export interface Forecast {
  readonly verdict: ChainVerdict;
  readonly years: readonly ForecastYear[];
}

/**
 * Expected number of laterals in each grade, year by year, left alone or with renewals. Renewed laterals start again in the
 * class that their renewal says, as new ones in 0.
 *
 *   n(t) = n(0)·Pᵗ   for each group that is renewed at the same time, then summed
 *
 * Source: Markov chain of the network, see engineering/markov.ts.
 * For totals and backlog only, never to rank single laterals: on 115 258 inspections of Berlin sewers a cohort chain was within 5 % for
 * the network and no better than chance for the single pipe (Journal of Hydroinformatics, doi
 * 10.2166/hydro.2018.217). Laterals nobody has graded are in it only if the caller has spread them over the grades.
 *
 * @param today numbers in classes 0 to 5
 */
export function forecastGrades(
  today: readonly number[],
  renewals: readonly Renewal[],
  years: number,
  wear: NetworkWear,
): Forecast {
  verifyCounts(today, "today");
  if (!(Number.isInteger(years) && years >= 0))
    throw new RangeError(`forecastGrades needs whole years of 0 or more, got ${years}`);
  const left = [...today];
  for (const { year, byGrade, to } of renewals) {
    verifyCounts(byGrade, `renewed in year ${year}`);
    if (!(Number.isInteger(year) && year >= 0))
      throw new RangeError(`a renewal needs a whole year, got ${year}`);
    if (!(Number.isInteger(to) && to >= 0 && to < CLASSES))
      throw new RangeError(`a renewal starts again in a class of 0 to ${CLASSES - 1}, got ${to}`);
    for (const [grade, n] of byGrade.entries()) left[grade]! -= n;
  }
  const short = left.findIndex((n) => n < -1e-9);
  if (short >= 0)
    throw new RangeError(
      `more laterals renewed in grade ${short} than there are: ${today[short]! - left[short]!} of ${today[short]}`,
    );

  const groups = [{ year: Infinity, byGrade: left, to: 0 }, ...renewals];
  const classes = withClassZero(wear.chain, wear.newStays);
  const worn = shareTables(classes, years, wear.yearsPerStep);
  return {
    verdict: judgeChain(wear.chain, wear.yearsPerStep, wear.uselessAfterYears),
    years: Array.from({ length: years + 1 }, (_, year) => sumGroups(groups, year, worn)),
  };
}

/** How many are in this grade or worse. The backlog is what is above the grade a city will not live with. */
export const backlogOf = ({ expected }: ForecastYear, fromGrade: number): number =>
  expected.slice(fromGrade).reduce((sum, n) => sum + n, 0);

/** Shares after each year of a lateral that starts in each class. */
type ShareTables = readonly (readonly (readonly number[])[])[];

function sumGroups(groups: readonly Renewal[], year: number, worn: ShareTables): ForecastYear {
  const expected = new Array<number>(CLASSES).fill(0);
  const variance = new Array<number>(CLASSES).fill(0);
  for (const group of groups) {
    const renewed = group.year <= year;
    const table = worn[renewed ? year - group.year : year]!;
    for (const [grade, n] of group.byGrade.entries()) {
      for (const [into, share] of table[renewed ? group.to : grade]!.entries()) {
        expected[into]! += n * share;
        variance[into]! += n * share * (1 - share);
      }
    }
  }
  // A share of 1 may come out a bit above it.
  return { year, expected, spread: variance.map((v) => Math.sqrt(Math.max(0, v))) };
}

/** worn[year][from] = shares of classes 0 to 5; between steps of the chain, linear. */
function shareTables(classes: Chain, years: number, yearsPerStep: number): ShareTables {
  const starts = classes.map((_, i) => classes.map((__, j) => (i === j ? 1 : 0)));
  return Array.from({ length: years + 1 }, (_, year) => {
    const steps = Math.floor(year / yearsPerStep);
    const part = year / yearsPerStep - steps;
    return starts.map((start) => {
      const before = gradesAfter(start, steps, classes);
      if (part === 0) return before;
      const after = gradesAfter(before, 1, classes);
      return before.map((share, i) => share + part * (after[i]! - share));
    });
  });
}

function verifyCounts(counts: readonly number[], what: string): void {
  if (counts.length !== CLASSES || counts.some((n) => !(n >= 0 && n < Infinity)))
    throw new RangeError(`${what}: expected 6 numbers of 0 or more, got ${counts.join(", ")}`);
}
