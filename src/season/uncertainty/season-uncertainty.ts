import { sampleQuantile } from "../../engineering/latin-hypercube.ts";
import type { SpreadShape } from "../../engineering/pert-distribution.ts";
import { spearmanRho } from "../../engineering/rank-agreement.ts";
import type { Day } from "../../quantity/si.ts";
import { lumpSumsOf, pricedLumpSums } from "../lump-sums.ts";
import type { PlannedProgram } from "../planned-program.ts";
import { drawWorlds } from "./draw-worlds.ts";
import { allShared, drawShared, type SharedDraw } from "./shared-draws.ts";
import { type UncertainWork, uncertainWork } from "./uncertain-work.ts";
import { correlationInWords, leftInWords, shareInWords } from "./uncertainty-words.ts";

/** What a figure comes to over the worlds, beside what is planned. */
export interface Outcome {
  readonly planned: number;
  readonly mean: number;
  readonly p10: number;
  readonly p50: number;
  readonly p80: number;
  readonly p90: number;
  /** Share of worlds that come to no more than what is planned: the percentile of the plan. */
  readonly plannedHolds: number;
}

/** Days; null is after the season. */
export interface FinishOutcome {
  /** By the calendar, with durations as estimated and the expected weather. */
  readonly planned: Day | null;
  /** Share of worlds that are finished by then. */
  readonly plannedHolds: number;
  readonly p10: Day | null;
  readonly p50: Day | null;
  readonly p80: Day | null;
  readonly p90: Day | null;
  /** Share of worlds in which it is finished within the season. */
  readonly inSeason: number;
}

export interface UncertainDistrict {
  /** "" is the laterals the city puts in no district. */
  readonly district: string;
  /** Cents. What is done is in it at what it cost. */
  readonly cost: Outcome;
  /** Crew-days of the planned shift, one crew, one lateral after another. */
  readonly crewDays: Outcome;
  /** Null where there is no calendar to finish in, or nothing to finish. */
  readonly finish: FinishOutcome | null;
}

/**
 * How much one shared draw moves a result. What is not told from chance is left out: |ρ| under 2/√(n − 1), two standard errors of the
 * rank correlation of things that have nothing to do with each other (Kendall and Gibbons, Rank Correlation Methods: variance
 * 1/(n − 1)).
 */
export interface Driver extends Pick<SharedDraw, "key" | "words"> {
  /** Spearman's rank correlation with the result, −1 … 1. */
  readonly rho: number;
}

export interface SeasonUncertainty {
  readonly shape: SpreadShape;
  readonly draws: number;
  readonly seed: number;
  readonly districts: readonly UncertainDistrict[];
  readonly program: UncertainDistrict;
  /** The strongest first. */
  readonly drivers: { readonly cost: readonly Driver[]; readonly time: readonly Driver[] };
  /** Cents over the planned cost that hold in the table's share of worlds; 0 where the plan holds by itself. */
  readonly contingency: number;
  /** Mean number of laterals that turn out to need another treatment. */
  readonly meanChanged: number;
  /** The same worlds through the other shape: mean and P80 of the program's cost, since the choice moves them. */
  readonly otherShape: { readonly shape: SpreadShape; readonly mean: number; readonly p80: number };
  readonly left: UncertainWork["left"];
  /** Of the bid, cents at the program's unit prices: in no cost above, and taken as certain beside it. */
  readonly lumpSums: { readonly items: readonly string[]; readonly cents: number };
  /** What moves together, and what no draw holds, in sentences. */
  readonly notes: readonly string[];
}

/** When the work is finished in one world; null is after the season. Districts without work have no day. */
export interface Finishes {
  readonly districts: ReadonlyMap<string, Day | null>;
  readonly program: Day | null;
}

/**
 * Finishes in one world.
 *
 * @param times crew time of each district over what is planned
 * @param weather factor on the days lost
 */
export type FinishOf = (times: ReadonlyMap<string, number>, weather: number) => Finishes;

export interface UncertaintyOptions {
  readonly draws?: number;
  readonly seed?: number;
}

/** Cost and time of a planned program over many worlds. */
export function seasonUncertainty(
  program: PlannedProgram,
  options: UncertaintyOptions = {},
  finishOf: FinishOf | null = null,
): SeasonUncertainty {
  const { uncertainty: table, steps } = program.basis;
  const work = uncertainWork(program);
  const settings = {
    draws: options.draws ?? drawsFor(table.draws, work.laterals.length),
    seed: options.seed ?? table.seed,
    shape: table.shape,
  };
  const shared = drawShared(table, work.priceClasses, settings);
  const worlds = drawWorlds(work, shared, table, settings);
  const cost = withSum(worlds.cost, settings.draws);
  const minutes = withSum(worlds.minutes, settings.draws);
  const plannedCost = withTotal(work.plannedCost.map((own, d) => own + work.held[d]!));
  const plannedMinutes = withTotal(work.plannedMinutes);
  const finishes =
    finishOf === null ? null : finishesOf(finishOf, work.districts, minutes, plannedMinutes, shared.weather);
  const asPlanned = finishOf === null ? null : plannedFinishes(finishOf, work.districts);
  const parts = [...work.districts, ""].map(
    (district, d): UncertainDistrict => ({
      district,
      cost: outcomeOf(cost[d]!, plannedCost[d]!),
      crewDays: outcomeOf(
        minutes[d]!.map((all) => all / steps.shiftMinutes),
        plannedMinutes[d]! / steps.shiftMinutes,
      ),
      finish: finishes === null || asPlanned === null ? null : finishOutcomeOf(finishes[d]!, asPlanned[d]!),
    }),
  );
  const all = parts.at(-1)!;
  const drawn: readonly SharedDraw[] = allShared(shared);
  const level = sampleQuantile(cost.at(-1)!.toSorted(), table.contingencyLevel);
  return {
    ...settings,
    districts: parts.slice(0, -1),
    program: all,
    drivers: {
      cost: driversOf(drawn, "cost", cost.at(-1)!),
      time: driversOf(drawn, "time", finishes === null ? minutes.at(-1)! : rankable(finishes.at(-1)!)),
    },
    contingency: Math.max(0, level - all.cost.planned),
    meanChanged: meanOf(worlds.changed),
    otherShape: throughOtherShape(work, program, settings),
    left: work.left,
    lumpSums: {
      items: pricedLumpSums(program.basis).map(({ key }) => key),
      cents: lumpSumsOf(program.basis),
    },
    notes: [...shareInWords[program.basis.budgetPays], ...correlationInWords, ...leftInWords(work.left)],
  };
}

const ALL_DRAWS_UP_TO = 5_000;
const LEAST_DRAWS = 500;

/** As many as the table says for up to 5,000 laterals; fewer above, so that the time stays about the same, and never under 500. */
const drawsFor = (draws: number, laterals: number): number =>
  laterals <= ALL_DRAWS_UP_TO
    ? draws
    : Math.min(draws, Math.max(LEAST_DRAWS, Math.floor((draws * ALL_DRAWS_UP_TO) / laterals)));

/** Mean and P80 only, which fewer draws give well enough to compare. */
function throughOtherShape(
  work: UncertainWork,
  { basis: { uncertainty: table } }: PlannedProgram,
  { shape, ...settings }: { readonly draws: number; readonly seed: number; readonly shape: SpreadShape },
): SeasonUncertainty["otherShape"] {
  const other = {
    ...settings,
    draws: Math.min(LEAST_DRAWS, settings.draws),
    shape: shape === "beta-PERT" ? ("triangular" as const) : ("beta-PERT" as const),
  };
  const worlds = drawWorlds(work, drawShared(table, work.priceClasses, other), table, other);
  const all = withSum(worlds.cost, other.draws).at(-1)!;
  return { shape: other.shape, mean: meanOf(all), p80: sampleQuantile(all.toSorted(), 0.8) };
}

/** The districts and then their sum, world by world: so draws of the districts are those of the program. */
function withSum(districts: readonly Float64Array[], draws: number): readonly Float64Array[] {
  const all = new Float64Array(draws);
  for (const own of districts) for (let i = 0; i < draws; i++) all[i]! += own[i]!;
  return [...districts, all];
}

const withTotal = (districts: readonly number[]): readonly number[] => [
  ...districts,
  districts.reduce((sum, own) => sum + own, 0),
];

const meanOf = (values: Float64Array): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

function outcomeOf(values: Float64Array, planned: number): Outcome {
  const sorted = values.toSorted();
  const at = (p: number) => sampleQuantile(sorted, p);
  return {
    planned,
    mean: meanOf(values),
    p10: at(0.1),
    p50: at(0.5),
    p80: at(0.8),
    p90: at(0.9),
    plannedHolds: shareUpTo(values, planned),
  };
}

/** What is half of a cent or of a minute over is no more: sums of what is not rounded differ in their last digits. */
const shareUpTo = (values: Float64Array, limit: number): number =>
  values.filter((value) => value <= limit + ROUNDING).length / values.length;
const ROUNDING = 1e-6;

/** By district and then of all: the finish of the world in which all goes as planned. */
function plannedFinishes(finishOf: FinishOf, districts: readonly string[]): readonly (Day | null)[] {
  const found = finishOf(new Map(districts.map((district) => [district, 1])), 1);
  return [...districts.map((district) => found.districts.get(district) ?? null), found.program];
}

/** By district and then of all, a day a world: Infinity is after the season, NaN where there is no work. */
function finishesOf(
  finishOf: FinishOf,
  districts: readonly string[],
  minutes: readonly Float64Array[],
  planned: readonly number[],
  weather: SharedDraw,
): readonly Float64Array[] {
  const finishes = minutes.map((own) => new Float64Array(own.length).fill(Number.NaN));
  for (let i = 0; i < weather.factors.length; i++) {
    const times = new Map(
      districts.map((district, d) => [district, planned[d] === 0 ? 1 : minutes[d]![i]! / planned[d]!]),
    );
    const found = finishOf(times, weather.factors[i]!);
    for (const [d, district] of districts.entries()) {
      const day = found.districts.get(district);
      if (day !== undefined) finishes[d]![i] = day ?? Number.POSITIVE_INFINITY;
    }
    finishes.at(-1)![i] = found.program ?? Number.POSITIVE_INFINITY;
  }
  return finishes;
}

/** Days are whole: the first day by which a share of the worlds is finished. */
function finishOutcomeOf(days: Float64Array, planned: Day | null): FinishOutcome | null {
  if (days.some(Number.isNaN)) return null;
  const sorted = days.toSorted();
  const at = (p: number): Day | null => {
    const found = sorted[Math.min(sorted.length - 1, Math.ceil(p * sorted.length) - 1)]!;
    return Number.isFinite(found) ? (found as Day) : null;
  };
  return {
    planned,
    plannedHolds: planned === null ? 1 : shareUpTo(days, planned),
    p10: at(0.1),
    p50: at(0.5),
    p80: at(0.8),
    p90: at(0.9),
    inSeason: days.filter(Number.isFinite).length / days.length,
  };
}

/** Worlds after the season are later than all others, and alike. */
const rankable = (days: Float64Array): Float64Array =>
  days.map((day) => (Number.isFinite(day) ? day : Number.MAX_SAFE_INTEGER));

function driversOf(
  drawn: readonly SharedDraw[],
  of: "cost" | "time",
  result: Float64Array,
): readonly Driver[] {
  const chance = 2 / Math.sqrt(result.length - 1);
  return drawn
    .flatMap(({ key, words, moves, factors }): Driver[] => {
      if (!moves.includes(of)) return [];
      const rho = spearmanRho(factors, result);
      return rho === null || Math.abs(rho) < chance ? [] : [{ key, words, rho }];
    })
    .sort((a, b) => Math.abs(b.rho) - Math.abs(a.rho) || (a.key < b.key ? -1 : 1));
}
