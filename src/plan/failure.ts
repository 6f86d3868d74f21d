import type { Blocking } from "../cohort/blockage-tables.ts";
import type { RestsOn, Ungraded } from "../cohort/city-fits.ts";
import { type Band, worseBand } from "../engineering/band.ts";
import { structuralChance } from "../engineering/failure-probability.ts";
import { blockageChance, updateBlockageRate } from "../engineering/gamma-poisson.ts";
import {
  LITRES_PER_SECOND_PER_MM_M_PER_GPD_INCH_MILE,
  type SeasonalFlow,
  seasonalOfLateral,
  type YearlyFlow,
  yearlyMean,
} from "../engineering/infiltration.ts";
import { DAYS_PER_YEAR, yearOf } from "../quantity/calendar.ts";
import { onceFor } from "../quantity/once-for.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { fraction } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { wearOf } from "../reference/deterioration.ts";
import type { Condition } from "./condition.ts";
import { type Chances, type FailureMoney, moneyOf } from "./failure-money.ts";
import type { Lateral } from "./lateral.ts";
import type { PlanBasis } from "./plan-basis.ts";
import { type Stated, stated } from "./stated.ts";

/** Clear water of one lateral: the mean of the season of high groundwater, and of the year made of both seasons. Never a peak. */
export interface Infiltration {
  readonly highSeason: SeasonalFlow;
  readonly year: YearlyFlow;
}

/** How a lateral may fail in the coming year, mode by mode, and what that costs. Apart from the score, which orders. */
export interface Failure {
  /** Chance in the coming year; of infiltration: that it leaks in the season of high groundwater. */
  readonly chances: Chances;
  /** What a lateral without a grade, or seen in part, rests on; also the share of poor ones behind a misread survey. */
  readonly cohort: Ungraded;
  /** Null where diameter or length is unknown, or nothing in the city leaks. */
  readonly infiltration: Stated<Infiltration> | null;
  /** Null where the failure costs are in another currency. */
  readonly money: FailureMoney | null;
}

/**
 * Chances of failure by mode, their cost, and the clear water that leaks in.
 *
 * Structural: from the grade and the time since its survey, else from the cohort. Blockage: from the O&M grade and the lateral's record
 * of backups, which never touch the chance of collapse. Infiltration: from the structural grade. A lateral seen in part is no better
 * than its cohort: what was not seen may be worse.
 */
export function judgeFailure(lateral: Lateral, condition: Condition, basis: PlanBasis): Failure {
  const { fits } = basis;
  const year = lateral.installYear?.value ?? null;
  const age = year === null ? null : Math.max(0, yearOf(basis.program.asOf) - year);
  const material = lateral.hostMaterial?.value ?? "";
  const cohort = age === null ? fits.ungradedOfNoAge : ungradedAt(fits.ungraded[material], age, material);
  const { structural, infiltration: leaks } = seenChances(condition, cohort, basis) ?? cohortChances(cohort);
  const chances = {
    structural,
    blockage: blockageOf(lateral, condition, material, basis),
    infiltration: leaks,
  };
  const infiltration = infiltrationOf(lateral, leaks, basis);
  return {
    chances,
    cohort,
    infiltration,
    money: moneyOf(lateral, chances, infiltration?.value.year ?? null, basis),
  };
}

type SeenModes = Pick<Chances, "structural" | "infiltration">;

/** By the grade; null without one. */
function seenChances(
  condition: Condition,
  cohort: Ungraded,
  { fits, program, failureModes: { reading, infiltration } }: PlanBasis,
): SeenModes | null {
  const { structural: seen, structuralSeen } = condition;
  if (seen === null) return null;
  const grade = seen.value;
  // A decided grade without a survey is of the day.
  const yearsSince = structuralSeen === null ? 0 : (program.asOf - structuralSeen) / DAYS_PER_YEAR;
  const ofPipe = { grade, yearsSince, poorShare: fraction(cohort.poorShare.best) };
  const structural = structuralChance(ofPipe, fits.structural, reading);
  const leaks = infiltration.leaksByGrade[grade]!;
  if (isWholeGrade(condition))
    return { structural: stated(structural, "estimated"), infiltration: stated(leaks, "estimated") };
  const because = "no better than its cohort: seen in part";
  return {
    structural: stated(worseBand(structural, cohort.structural), "estimated", because),
    infiltration: stated(worseBand(leaks, cohort.leaks), "estimated", because),
  };
}

/** By the cohort: one record for all its laterals, with its words. */
const cohortChances = onceFor((cohort: Ungraded): SeenModes => {
  const origin = cohort.restsOn.kind === "assumed life" ? "assumed" : "estimated";
  const because = describeRests(cohort.restsOn);
  return {
    structural: stated(cohort.structural, origin, because),
    infiltration: stated(cohort.leaks, origin, because),
  };
});

/** Whether the structural grade is of the whole pipe: a complete survey's, or a person's word. */
export const isWholeGrade = ({ state, structural }: Condition): boolean =>
  state === "surveyed" || structural?.origin === "decided";

/** How the network wears, for the chance of failure and the forecast. */
export const networkWear = ({ deterioration }: Pick<Basis, "deterioration">) => wearOf(deterioration);

function ungradedAt(ages: readonly Ungraded[] | undefined, age: number, material: string): Ungraded {
  const found = ages?.[Math.min(age, ages.length - 1)];
  if (found === undefined)
    throw new RangeError(`judgeFailure: no fit for ${JSON.stringify(material)}, ${age}`);
  return found;
}

/** What a cohort estimate rests on, in words. */
export function describeRests(on: RestsOn): string {
  switch (on.kind) {
    case "cohort": {
      const name = on.by === "all" ? "all laterals" : [on.material, on.era].filter((w) => w !== "").join(" ");
      return `life fitted to ${showCount(on.inspected)} surveys of ${name}, ${showCount(on.bad)} of them bad`;
    }
    case "all inspected":
      return `year unknown: share of bad ones in all ${showCount(on.inspected)} surveys, ${showCount(on.bad)} bad`;
    case "assumed life":
      return on.ageKnown
        ? `too few surveys to fit a life: assumed life at ${on.age} years`
        : `year unknown and too few surveys: assumed life at an assumed ${on.age} years`;
    default:
      return on satisfies never;
  }
}

/** Index of the laterals without an O&M grade in the tables of blockage. */
const NOT_GRADED = 6;

/** By material, grade and backups: what the fits have tabulated is stated once, in words made once. */
function blockageOf(lateral: Lateral, { om }: Condition, material: string, basis: PlanBasis): Stated<Band> {
  const backups = lateral.backups?.value ?? null;
  const grade = om?.value ?? NOT_GRADED;
  const blocking = basis.fits.blocked[material];
  if (blocking?.priors[grade] === undefined)
    throw new RangeError(`judgeFailure: no blockage fit for ${JSON.stringify(material)}, grade ${grade}`);
  const tabulated = backups === null ? blocking.unrecorded[grade] : blocking.chances[grade]?.[backups];
  if (tabulated === undefined) return stateBlockage(blocking, grade, backups, basis);
  let known = blockages.get(tabulated);
  if (known === undefined) {
    known = stateBlockage(blocking, grade, backups, basis);
    blockages.set(tabulated, known);
  }
  return known;
}

/** By the band of the fits' table, which is of one material, or of all that were not fitted, and of one grade and number of backups. */
const blockages = new WeakMap<Band, Stated<Band>>();

function stateBlockage(
  blocking: Blocking,
  grade: number,
  backups: number | null,
  { fits, failureModes: { blockage } }: PlanBasis,
): Stated<Band> {
  const tabulated = backups === null ? blocking.unrecorded[grade] : blocking.chances[grade]?.[backups];
  const record = { backups: backups ?? 0, otherCalls: 0, years: fits.recordYears };
  const band =
    tabulated ??
    blockageChance(updateBlockageRate(blocking.priors[grade]!, record, blockage.callShare), blockage.level);
  return stated(
    band,
    backups !== null || blocking.fromCity ? "estimated" : "assumed",
    `${backups === null ? "no record of backups" : `${backups} backup(s) in ${fits.recordYears} years`}; before them ${blocking.fromCity ? "the city's own record" : "an assumed rate"} for ${grade === NOT_GRADED ? "no O&M grade" : `O&M grade ${grade}`}`,
  );
}

/**
 * Clear water by diameter, length and the city's unit rate, shared out by the chance of leaking so that the city's total stands.
 *
 *   Q = r·D·L·p/p̄ ,   p̄ the mean of p over the city by D·L
 */
function infiltrationOf(
  { hostDiameter, hostLength }: Lateral,
  leaks: Stated<Band>,
  { fits, failureModes: { infiltration } }: PlanBasis,
): Stated<Infiltration> | null {
  if (hostDiameter === null || hostLength === null || fits.leakMean === null) return null;
  const { highSeasonGpdPerInchMile, lowSeasonGpdPerInchMile, highSeasonDays } = infiltration.unitRate;
  const factor = leaks.value.best / fits.leakMean;
  const diameter = hostDiameter.value;
  const length = hostLength.value;
  const highSeason = seasonalOfLateral(unitRate(highSeasonGpdPerInchMile), diameter, length, factor);
  const lowSeason = seasonalOfLateral(unitRate(lowSeasonGpdPerInchMile), diameter, length, factor);
  const year = yearlyMean([
    { flow: highSeason, days: highSeasonDays },
    { flow: lowSeason, days: DAYS_IN_YEAR - highSeasonDays },
  ]);
  return stated({ highSeason, year }, "assumed", "unit rate of another city's sewers");
}

/** L/s per mm and m. */
const unitRate = (gpdPerInchMile: number): number =>
  gpdPerInchMile * LITRES_PER_SECOND_PER_MM_M_PER_GPD_INCH_MILE;

const DAYS_IN_YEAR = 365;
