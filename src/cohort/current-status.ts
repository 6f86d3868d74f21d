import type { Band } from "../engineering/band.ts";
import type { WeibullLife } from "../engineering/survival.ts";

/** Inspected laterals of one age in years on the day of the survey, all of them found bad or none. */
export interface SeenAtAge {
  readonly age: number;
  readonly bad: boolean;
  laterals: number;
}

/** The least that a fit may rest on. Ours: with fewer the intervals span everything. */
export const enoughToFit = { inspected: 30, bad: 5, notBad: 5 } as const;

/** Install years are whole years, so an age of a few months and of none are the same to us: both count as half a year. */
const YOUNGEST = 0.5;

/** Scales in years beyond which a curve is all but level over any life of a pipe, and where intervals of it end. Ours. */
const SHORTEST_LIFE = 0.1;
const LONGEST_LIFE = 10_000;

/** Standard normal quantile for a 95 % interval. */
const NORMAL_95 = 1.959963984540054;

/**
 * A Weibull life fitted to what surveys found. The line z = a + b·(ln t − c), z = ln(−ln S), carries the uncertainty: intervals are
 * made on it and stay within 0 … 1.
 */
export interface FittedLife {
  readonly kind: "fitted";
  readonly inspected: number;
  readonly bad: number;
  readonly life: WeibullLife;
  /** 95 % interval of the shape. Below 0 at its least, the data do not even rule out that the older are better. */
  readonly shape: Band;
  /** 95 % interval of the scale in years, on its logarithm, from 0.1 to 10 000 years at most. */
  readonly scale: Band;
  readonly line: {
    readonly intercept: number;
    readonly slope: number;
    /** c, the mean of ln t: makes intercept and slope nearly independent. */
    readonly centre: number;
    readonly variance: { readonly intercept: number; readonly slope: number; readonly both: number };
  };
  readonly logLikelihood: number;
  /** Found and expected numbers of bad laterals by quarter of the ages: how well the curve follows the city's data. */
  readonly byAge: readonly AgeGroup[];
}

export interface AgeGroup {
  readonly fromAge: number;
  readonly toAge: number;
  readonly inspected: number;
  readonly bad: number;
  readonly expected: number;
}

export interface NotFitted {
  readonly kind: "not fitted";
  readonly because:
    | "too few inspected"
    | "too few bad"
    | "too few not bad"
    /** Every bad one is as old as or older than every other: the curve would be a step. */
    | "ages part bad from good"
    /** The likeliest curve falls with age, or is all but level: no life can be read from it. */
    | "older are not worse";
  readonly inspected: number;
  readonly bad: number;
}

export type LifeFit = FittedLife | NotFitted;

/**
 * A Weibull life from surveys made once at whatever age each lateral had: a survey says only that the lateral was, or was not yet, bad
 * (current-status data). By maximum likelihood.
 *
 *   P(bad at t) = 1 − exp(−(t/η)^b) ,   ln L = Σ_bad ln(1 − e^−h) − Σ_good h ,   h = (t/η)^b = e^(b·ln t − b·ln η)
 *
 * Source: current-status likelihood; with a Weibull life it is a binary regression on ln t with complementary log-log link, textbook
 * (McCullagh and Nelder, Generalized Linear Models), from memory. ln L is concave in the line's two numbers, so Newton's method with
 * halved steps finds the one maximum. Intervals from the observed information.
 * Holds for: surveys whose time does not depend on the condition. Those after a complaint do: see `cohortCautions`. For totals of a
 * cohort, not to tell one lateral from another.
 */
export function fitLife(found: readonly SeenAtAge[]): LifeFit {
  const seen = countByAge(found);
  const inspected = lateralsIn(seen);
  const bad = lateralsIn(seen.filter((pipes) => pipes.bad));
  const refused = (because: NotFitted["because"]): NotFitted => ({
    kind: "not fitted",
    because,
    inspected,
    bad,
  });
  if (inspected < enoughToFit.inspected) return refused("too few inspected");
  if (bad < enoughToFit.bad) return refused("too few bad");
  if (inspected - bad < enoughToFit.notBad) return refused("too few not bad");

  const logAge = seen.map(({ age }) => {
    if (!(age >= 0 && age < Infinity))
      throw new RangeError(`fitLife needs ages of 0 years or more, got ${age}`);
    return Math.log(Math.max(YOUNGEST, age));
  });
  const range = (wanted: boolean) => {
    let least = Infinity;
    let most = -Infinity;
    for (const [i, pipes] of seen.entries())
      if (pipes.bad === wanted) {
        least = Math.min(least, logAge[i]!);
        most = Math.max(most, logAge[i]!);
      }
    return { least, most };
  };
  const ofBad = range(true);
  const ofGood = range(false);
  // Where the two kinds do not overlap in age the likelihood has no maximum.
  if (ofBad.most <= ofGood.least) return refused("older are not worse");
  if (ofGood.most <= ofBad.least) return refused("ages part bad from good");

  const centre = sumOver(seen, (i) => logAge[i]!) / inspected;
  const x = logAge.map((l) => l - centre);
  const top = climb(seen, x, Math.log(-Math.log1p(-bad / inspected)));
  const { intercept, slope } = top;
  const { aa, ab, bb } = top.information;
  const determinant = aa * bb - ab * ab;
  const variance = { intercept: bb / determinant, slope: aa / determinant, both: -ab / determinant };
  const scale = Math.exp(centre - intercept / slope);
  if (!(slope > 0 && scale > SHORTEST_LIFE && scale < LONGEST_LIFE)) return refused("older are not worse");

  // Delta method: d ln η = −da/b + (a/b²)·db.
  const da = -1 / slope;
  const db = intercept / slope ** 2;
  const scaleSpread = Math.sqrt(
    da * da * variance.intercept + 2 * da * db * variance.both + db * db * variance.slope,
  );
  const life = { scale, shape: slope };
  return {
    kind: "fitted",
    inspected,
    bad,
    life,
    shape: {
      least: slope - NORMAL_95 * Math.sqrt(variance.slope),
      best: slope,
      most: slope + NORMAL_95 * Math.sqrt(variance.slope),
    },
    scale: {
      least: Math.max(SHORTEST_LIFE, scale * Math.exp(-NORMAL_95 * scaleSpread)),
      best: scale,
      most: Math.min(LONGEST_LIFE, scale * Math.exp(NORMAL_95 * scaleSpread)),
    },
    line: { intercept, slope, centre, variance },
    logLikelihood: top.value,
    byAge: groupByAge(seen, life),
  };
}

/** Share of the cohort that is bad at an age, with its 95 % interval. */
export function badShareAt(age: number, fit: FittedLife): Band {
  if (!(age >= 0)) throw new RangeError(`badShareAt needs an age of 0 years or more, got ${age}`);
  const { intercept, slope, centre, variance } = fit.line;
  const x = Math.log(Math.max(YOUNGEST, age)) - centre;
  const z = intercept + slope * x;
  const spread = Math.sqrt(variance.intercept + 2 * x * variance.both + x * x * variance.slope);
  return {
    least: badShare(z - NORMAL_95 * spread),
    best: badShare(z),
    most: badShare(z + NORMAL_95 * spread),
  };
}

const badShare = (z: number): number => -Math.expm1(-Math.exp(z));

/** ln L with its slope and the information (minus its curvature) at a line. */
interface Likelihood {
  readonly value: number;
  readonly slope: readonly [number, number];
  readonly information: { readonly aa: number; readonly ab: number; readonly bb: number };
}

function likelihoodAt(seen: readonly SeenAtAge[], x: readonly number[], a: number, b: number): Likelihood {
  let value = 0;
  let da = 0;
  let db = 0;
  let aa = 0;
  let ab = 0;
  let bb = 0;
  for (let i = 0; i < x.length; i++) {
    const { bad, laterals } = seen[i]!;
    const at = x[i]!;
    const h = Math.exp(a + b * at);
    let gain = -h;
    let first = -h;
    let second = -h;
    if (bad) {
      gain = Math.log(-Math.expm1(-h));
      // d ln(1 − e^−h)/dz = h/(e^h − 1); both vanish long before e^h overflows.
      first = h > 700 ? 0 : h / Math.expm1(h);
      second = h > 700 ? 0 : h < 1e-8 ? -h / 2 : first * (1 + h / Math.expm1(-h));
    }
    // One by one, as sumOver does; six sums side by side take less than 1 ms a million.
    for (let n = 0; n < laterals; n++) {
      value += gain;
      da += first;
      db += first * at;
      aa -= second;
      ab -= second * at;
      bb -= second * at * at;
    }
  }
  return { value, slope: [da, db], information: { aa, ab, bb } };
}

const MOST_STEPS = 100;

/** Sums over a hundred thousand laterals differ by this part from one order to another: less is no loss. */
const SUM_NOISE = 1e-12;

/** Newton's method from the level line through the overall share, each step halved until it climbs. */
function climb(seen: readonly SeenAtAge[], x: readonly number[], start: number) {
  let intercept = start;
  let slope = 0;
  let here = likelihoodAt(seen, x, intercept, slope);
  for (let n = 0; n < MOST_STEPS; n++) {
    const { aa, ab, bb } = here.information;
    const determinant = aa * bb - ab * ab;
    const [ga, gb] = here.slope;
    const stepA = (bb * ga - ab * gb) / determinant;
    const stepB = (aa * gb - ab * ga) / determinant;
    // What the likelihood can still gain, to first order.
    if (ga * stepA + gb * stepB < 1e-12) return { ...here, intercept, slope };
    const enough = here.value - SUM_NOISE * Math.abs(here.value);
    let part = 1;
    let next = likelihoodAt(seen, x, intercept + stepA, slope + stepB);
    while (!(next.value >= enough) && part > 1e-12) {
      part /= 2;
      next = likelihoodAt(seen, x, intercept + part * stepA, slope + part * stepB);
    }
    intercept += part * stepA;
    slope += part * stepB;
    here = next;
  }
  throw new RangeError(
    `fitLife did not settle after ${MOST_STEPS} steps: intercept ${intercept}, shape ${slope}`,
  );
}

/** Quarters of the inspected by age; laterals of one age stay together. */
function groupByAge(seen: readonly SeenAtAge[], life: WeibullLife): readonly AgeGroup[] {
  const inspected = lateralsIn(seen);
  const groups: AgeGroup[] = [];
  let start = 0;
  let before = 0;
  for (let quarter = 1; quarter <= 4; quarter++) {
    let end = start;
    let upTo = before;
    while (
      end < seen.length &&
      (upTo < Math.round((inspected * quarter) / 4) || seen[end]!.age === seen[end - 1]?.age)
    )
      upTo += seen[end++]!.laterals;
    const group = seen.slice(start, end);
    if (group.length > 0)
      groups.push({
        fromAge: group[0]!.age,
        toAge: group.at(-1)!.age,
        inspected: upTo - before,
        bad: lateralsIn(group.filter((pipes) => pipes.bad)),
        expected: sumOver(group, (i) =>
          badShare(life.shape * Math.log(Math.max(YOUNGEST, group[i]!.age) / life.scale)),
        ),
      });
    start = end;
    before = upTo;
  }
  return groups;
}

/** One entry an age and kind, the youngest first and of an age the good first: sums of doubles depend on their order. */
function countByAge(found: readonly SeenAtAge[]): readonly SeenAtAge[] {
  const counted: SeenAtAge[] = [];
  const inOrder = [...found].sort((a, b) => a.age - b.age || Number(a.bad) - Number(b.bad));
  for (const { age, bad, laterals } of inOrder) {
    const last = counted.at(-1);
    if (last?.age === age && last.bad === bad) last.laterals += laterals;
    else counted.push({ age, bad, laterals });
  }
  return counted;
}

const lateralsIn = (seen: readonly SeenAtAge[]): number =>
  seen.reduce((sum, { laterals }) => sum + laterals, 0);

/** What each lateral of an entry adds, lateral by lateral: a product rounds otherwise, and a list counted must fit as the list itself. */
function sumOver(seen: readonly SeenAtAge[], of: (i: number) => number): number {
  let sum = 0;
  for (const [i, { laterals }] of seen.entries()) {
    const each = of(i);
    for (let n = 0; n < laterals; n++) sum += each;
  }
  return sum;
}
