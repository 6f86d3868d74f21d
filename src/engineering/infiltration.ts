import { LITRES_PER_GALLON, METRES_PER_FOOT } from "../quantity/factors.ts";
import {
  type Fraction,
  type Litres,
  type LitresPerSecond,
  litres,
  litresPerSecond,
  type Metres,
  type Millimetres,
} from "../quantity/si.ts";
import { type Band, verifyBand } from "./band.ts";
import { annualOfPresent, presentOfAnnual } from "./present-worth.ts";

/*
 * Clear water in the sewer. Three kinds of flow that must not be mixed: the mean of a season, the mean of a year, and a peak under
 * rain. A year is made of seasons; nothing makes a year of a peak, and the compiler refuses to take one for the other.
 */
declare const over: unique symbol;
type FlowOver<Time extends string> = LitresPerSecond & { readonly [over]: Time };
/** Mean over a season of high or low groundwater. */
export type SeasonalFlow = FlowOver<"a season">;
/** Mean over a whole year; made by {@link yearlyMean} only. */
export type YearlyFlow = FlowOver<"a year">;
/** Highest under rain: for the capacity of pipes and pumps. */
export type PeakFlow = FlowOver<"a peak">;
export type ClearWaterFlow = SeasonalFlow | YearlyFlow | PeakFlow;

export const seasonalFlow = (flow: LitresPerSecond): SeasonalFlow => flow as SeasonalFlow;
export const peakFlow = (flow: LitresPerSecond): PeakFlow => flow as PeakFlow;

const SECONDS_PER_DAY = 86_400;
const DAYS_IN_YEAR = 365;

/** Gallons per day per inch of diameter and mile of pipe → litres per second per millimetre and metre. */
export const LITRES_PER_SECOND_PER_MM_M_PER_GPD_INCH_MILE =
  LITRES_PER_GALLON / SECONDS_PER_DAY / (25.4 * 5280 * METRES_PER_FOOT);

/**
 * Infiltration of one lateral from the unit rate of its sewershed, by inside diameter and length.
 *
 *   Q = r·D·L·f
 *
 * Source: gallons per day per inch-diameter-mile, the unit of the City of Haverhill MA annual infiltration report (2011). A unit rate
 * is a mean over many pipes: one lateral may take none or ten times as much. The factor f tells them apart and is an assumption;
 * over a sewershed the length-weighted mean of f must be 1 if the total is to stand (see {@link factorsToMean}).
 *
 * @param unitRate L/s per mm and m
 */
export function seasonalOfLateral(
  unitRate: number,
  diameter: Millimetres,
  length: Metres,
  factor: number,
): SeasonalFlow {
  if (!(unitRate >= 0 && diameter > 0 && length > 0 && factor >= 0))
    throw new RangeError(
      `seasonalOfLateral needs rate and factor of 0 or more, diameter and length above 0, got ${unitRate}, ${factor}, ${diameter} mm, ${length} m`,
    );
  return seasonalFlow(litresPerSecond(unitRate * diameter * length * factor));
}

/**
 * Factors scaled so that their mean, weighted by diameter·length, is 1: the sewershed's measured total is shared out, not changed.
 * Null when every factor is 0.
 */
export function factorsToMean(
  factors: readonly number[],
  diameterTimesLength: readonly number[],
): readonly number[] | null {
  if (factors.length !== diameterTimesLength.length || factors.some((f) => !(f >= 0)))
    throw new RangeError(
      `factorsToMean needs a factor of 0 or more and a weight for each, got ${factors.join(", ")}`,
    );
  const all = diameterTimesLength.reduce((sum, w) => sum + w, 0);
  const weighted = factors.reduce((sum, f, i) => sum + f * diameterTimesLength[i]!, 0);
  return weighted === 0 ? null : factors.map((f) => (f * all) / weighted);
}

/** A season's mean flow and the days it lasts. */
export interface Season {
  readonly flow: SeasonalFlow;
  readonly days: number;
}

/** Mean flow of the year, Σ Q·d/365. The seasons must make up the year. */
export function yearlyMean(seasons: readonly Season[]): YearlyFlow {
  let all = 0;
  let flowDays = 0;
  let areDays = true;
  for (const { flow, days } of seasons) {
    all += days;
    flowDays += flow * days;
    areDays &&= days >= 0;
  }
  if (!(areDays && Math.abs(all - DAYS_IN_YEAR) <= 1e-9))
    throw new RangeError(
      `the seasons of a year make up 365 days, got ${seasons.map((s) => s.days).join(" + ")}`,
    );
  return (flowDays / DAYS_IN_YEAR) as YearlyFlow;
}

/** Volume of a year in litres. Takes no peak: 3 gpm under a storm is not 1.6 million gallons a year. */
export const yearlyVolume = (flow: YearlyFlow): Litres => litres(flow * SECONDS_PER_DAY * DAYS_IN_YEAR);

/** Cents a year to transport and treat it: q·365·u. Not rounded. */
export function treatmentPerYear(flow: YearlyFlow, centsPerCubicMetre: number): number {
  if (!(flow >= 0 && centsPerCubicMetre >= 0))
    throw new RangeError(
      `treatmentPerYear needs flow and price of 0 or more, got ${flow}, ${centsPerCubicMetre}`,
    );
  return (yearlyVolume(flow) / 1000) * centsPerCubicMetre;
}

/** A flow with bounds, still of its kind. */
export interface FlowBand<Flow extends ClearWaterFlow> {
  readonly least: Flow;
  readonly best: Flow;
  readonly most: Flow;
}

/** A treated lateral: what leaked before, and the part of it that the treatment stops in that lateral. */
export interface TreatedFlow<Flow extends ClearWaterFlow> {
  readonly sewershed: string;
  readonly before: Flow;
  readonly sealed: Band;
}

/** What the plan removes in a sewershed. */
export interface SewershedRemoval<Flow extends ClearWaterFlow> {
  readonly sewershed: string;
  readonly laterals: number;
  /** From the treated laterals, before treatment. */
  readonly before: Flow;
  /** Stopped in the treated laterals. */
  readonly stopped: FlowBand<Flow>;
  /** What the sewershed is relieved of, after some of it has found its way into pipes not treated. */
  readonly removed: FlowBand<Flow>;
}

/**
 * Removal by sewershed: stopped·(1 − m), m the share that migrates. Reported by sewershed only, because migration is: groundwater held
 * out of one pipe rises and leaks into the next.
 *
 * Source of migration: US EPA New England, Private Sewer Laterals (June 2014): after main-only work groundwater rises and laterals
 * begin to leak. The share is not published there: its range is an assumption.
 */
export function removalBySewershed<Flow extends ClearWaterFlow>(
  treated: readonly TreatedFlow<Flow>[],
  migration: Band,
): readonly SewershedRemoval<Flow>[] {
  verifyBand(migration, "migration", 0, 1);
  const names = [...new Set(treated.map(({ sewershed }) => sewershed))].sort((a, b) => (a < b ? -1 : 1));
  return names.map((sewershed) => {
    const here = treated.filter((lateral) => lateral.sewershed === sewershed);
    const sum = (of: (lateral: TreatedFlow<Flow>) => number) => here.reduce((total, l) => total + of(l), 0);
    for (const { sealed } of here) verifyBand(sealed, "the part a treatment seals", 0, 1);
    const least = sum(({ before, sealed }) => before * sealed.least);
    const best = sum(({ before, sealed }) => before * sealed.best);
    const most = sum(({ before, sealed }) => before * sealed.most);
    return {
      sewershed,
      laterals: here.length,
      before: sum(({ before }) => before) as Flow,
      stopped: { least: least as Flow, best: best as Flow, most: most as Flow },
      removed: {
        least: (least * (1 - migration.most)) as Flow,
        best: (best * (1 - migration.best)) as Flow,
        most: (most * (1 - migration.least)) as Flow,
      },
    };
  });
}

/** A sewer system, with the people it serves: the per-capita limits are about systems and there is no form of them for one lateral. */
export interface SewerSystem {
  readonly population: number;
}

/** Published limits, gallons per person and day. */
export const INFILTRATION_LIMIT_GPCD = 120;
export const STORM_LIMIT_GPCD = 275;

export interface PerCapita {
  /** Gallons per person and day. */
  readonly gpcd: number;
  readonly exceeds: boolean;
}

/**
 * Whether infiltration needs analysis: total flow in high groundwater above 120 gallons per person and day.
 *
 * Source: 40 CFR 35.2120; EPA brochure 1985: from 270 cities, without industry above 50,000 gal/day, mean of 7 to 14 days. A screening
 * limit: above it a study is due, below it infiltration counts as not excessive.
 *
 * @param total all sewage in the wet season, not the infiltration alone
 */
export const screenInfiltration = (system: SewerSystem, total: SeasonalFlow): PerCapita =>
  perCapita(system, total, INFILTRATION_LIMIT_GPCD);

/** Whether inflow needs study: total flow in a storm above 275 gallons per person and day. Source: 40 CFR 35.2120. */
export const screenInflow = (system: SewerSystem, total: PeakFlow): PerCapita =>
  perCapita(system, total, STORM_LIMIT_GPCD);

function perCapita({ population }: SewerSystem, total: LitresPerSecond, limit: number): PerCapita {
  if (!(Number.isInteger(population) && population > 0))
    throw new RangeError(`a sewer system needs its population, got ${population}`);
  const gpcd = (total * SECONDS_PER_DAY) / LITRES_PER_GALLON / population;
  // The limit itself does not exceed it, whatever the last bits of the conversion say.
  return { gpcd, exceeds: gpcd > limit * (1 + 1e-12) };
}

/** A program against infiltration, beside what the water costs as long as it comes. */
export interface RemovalWorth {
  /** The program, kept up over the horizon, as a level amount a year. */
  readonly programPerYear: number;
  readonly savedPerYear: number;
  /** Program over saving: above 1 it is cheaper to transport and treat. Infinity when nothing is saved. */
  readonly ratio: number;
  /** The most the program and its renewals may come to, in present worth, to pay for itself. */
  readonly breakEven: number;
  readonly verdict: "cheaper to remove" | "cheaper to transport and treat";
}

/**
 * Whether it is cheaper to remove infiltration than to transport and treat it.
 *
 *   P·(A/P, i, n) against S ;   break-even S·(P/A, i, n)
 *
 * Source: 40 CFR 35.2005(b)(16) and (28): excessive is what can be removed more cheaply than transported and treated; compared as the
 * City of Haverhill MA does in its annual infiltration report (2011). Money in any one unit, not rounded.
 *
 * @param presentWorth P, of the work and its renewals over the same years as the saving: work that lasts shorter is done again
 */
export function judgeRemoval(
  presentWorth: number,
  savedPerYear: number,
  rate: Fraction,
  years: number,
): RemovalWorth {
  if (!(presentWorth >= 0 && savedPerYear >= 0))
    throw new RangeError(
      `judgeRemoval needs cost and saving of 0 or more, got ${presentWorth}, ${savedPerYear}`,
    );
  const programPerYear = presentWorth * annualOfPresent(rate, years);
  return {
    programPerYear,
    savedPerYear,
    ratio: savedPerYear === 0 ? Infinity : programPerYear / savedPerYear,
    breakEven: savedPerYear * presentOfAnnual(rate, years),
    verdict: programPerYear < savedPerYear ? "cheaper to remove" : "cheaper to transport and treat",
  };
}
