import type { RestsOn, Ungraded } from "../cohort/city-fits.ts";
import { type Band, worseBand } from "../engineering/band.ts";
import {
  type CostPart,
  costOfFailure,
  expectedAnnualLoss,
  presentOfDoingNothing,
  sumParts,
} from "../engineering/expected-loss.ts";
import { type FailureMode, structuralChance } from "../engineering/failure-probability.ts";
import { blockageChance, updateBlockageRate } from "../engineering/gamma-poisson.ts";
import {
  LITRES_PER_SECOND_PER_MM_M_PER_GPD_INCH_MILE,
  type SeasonalFlow,
  seasonalOfLateral,
  treatmentPerYear,
  type YearlyFlow,
  yearlyMean,
} from "../engineering/infiltration.ts";
import { dateOf } from "../quantity/calendar.ts";
import { fraction } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { wearOf } from "../reference/deterioration.ts";
import { costsOf } from "../reference/failure-costs.ts";
import type { Condition } from "./condition.ts";
import type { Lateral } from "./lateral.ts";
import type { PlanBasis } from "./plan-basis.ts";
import { orAssumed, type Stated, stated } from "./stated.ts";

/** Clear water of one lateral: the mean of the season of high groundwater, and of the year made of both seasons. Never a peak. */
export interface Infiltration {
  readonly highSeason: SeasonalFlow;
  readonly year: YearlyFlow;
}

/** What a failure of each mode is expected to cost, part by part. */
export type FailureParts = Readonly<Record<FailureMode, readonly CostPart[]>>;

/** How a lateral may fail in the coming year, mode by mode, and what that costs. Apart from the score, which orders. */
export interface Failure {
  /** Chance in the coming year; of infiltration: that it leaks in the season of high groundwater. */
  readonly chances: Readonly<Record<FailureMode, Stated<Band>>>;
  /** What a lateral without a grade, or seen in part, rests on; also the share of poor ones behind a misread survey. */
  readonly cohort: Ungraded;
  /** Null where diameter or length is unknown, or nothing in the city leaks. */
  readonly infiltration: Stated<Infiltration> | null;
  /** Null where the failure costs are in another currency. */
  readonly money: FailureMoney | null;
}

export interface FailureMoney {
  readonly surface: Stated<string>;
  readonly parts: FailureParts;
  /** Cents a year, not rounded. */
  readonly annualLoss: Band;
  /** Cents of today over the horizon, left as it is. */
  readonly presentLoss: Band;
}

/**
 * Chances of failure by mode, their cost, and the clear water that leaks in.
 *
 * Structural: from the grade and the time since its survey, else from the cohort. Blockage: from the O&M grade and the lateral's record
 * of backups, which never touch the chance of collapse. Infiltration: from the structural grade. A lateral seen in part is no better
 * than its cohort: what was not seen may be worse.
 */
export function judgeFailure(lateral: Lateral, condition: Condition, basis: PlanBasis): Failure {
  const { fits, failureModes: tables } = basis;
  const year = lateral.installYear?.value ?? null;
  const age = year === null ? null : Math.max(0, dateOf(basis.program.asOf).year - year);
  const material = lateral.hostMaterial?.value ?? "";
  const cohort = age === null ? fits.ungradedOfNoAge : ungradedAt(fits.ungraded[material], age, material);
  const seen = condition.structural;
  const whole = isWholeGrade(condition);
  const chanceOf = (asSeen: () => Band, ofCohort: Band): Stated<Band> => {
    if (seen === null) return stated(ofCohort, cohortOrigin(cohort.restsOn), describeRests(cohort.restsOn));
    const band = whole ? asSeen() : worseBand(asSeen(), ofCohort);
    return stated(band, "estimated", whole ? null : "no better than its cohort: seen in part");
  };
  const structural = chanceOf(
    () =>
      structuralChance(
        {
          grade: seen!.value,
          // A decided grade without a survey is of the day.
          yearsSince: condition.ageYears ?? 0,
          poorShare: fraction(cohort.poorShare.best),
        },
        fits.structural,
        tables.reading,
      ),
    cohort.structural,
  );
  const leaks = chanceOf(() => tables.infiltration.leaksByGrade[seen!.value]!, cohort.leaks);
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
    money: moneyOf(lateral, chances, infiltration?.value ?? null, basis),
  };
}

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

const cohortOrigin = ({ kind }: RestsOn) => (kind === "assumed life" ? "assumed" : "estimated");

/** What a cohort estimate rests on, in words. */
export function describeRests(on: RestsOn): string {
  switch (on.kind) {
    case "cohort": {
      const name = on.by === "all" ? "all laterals" : [on.material, on.era].filter((w) => w !== "").join(" ");
      return `life fitted to ${on.inspected} surveys of ${name}, ${on.bad} of them bad`;
    }
    case "all inspected":
      return `year unknown: share of bad ones in all ${on.inspected} surveys, ${on.bad} bad`;
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

function blockageOf(
  lateral: Lateral,
  { om }: Condition,
  material: string,
  { fits, failureModes: { blockage } }: PlanBasis,
): Stated<Band> {
  const backups = lateral.backups?.value ?? null;
  const grade = om?.value ?? NOT_GRADED;
  const blocking = fits.blocked[material];
  const prior = blocking?.priors[grade];
  if (blocking === undefined || prior === undefined)
    throw new RangeError(`judgeFailure: no blockage fit for ${JSON.stringify(material)}, grade ${grade}`);
  const looked =
    backups === null ? blocking.unrecorded[grade] : (blocking.chances[grade] as readonly Band[])[backups];
  const after = (events: number) =>
    updateBlockageRate(
      prior,
      { backups: events, otherCalls: 0, years: fits.recordYears },
      blockage.callShare,
    );
  const band = looked ?? blockageChance(after(backups ?? 0), blockage.level);
  return stated(
    band,
    backups !== null || blocking.fromCity ? "estimated" : "assumed",
    `${backups === null ? "no record of backups" : `${backups} backup(s) in ${fits.recordYears} years`}; before them ${blocking.fromCity ? "the city's own record" : "an assumed rate"} for ${om === null ? "no O&M grade" : `O&M grade ${om.value}`}`,
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
  const flow = (gpdPerInchMile: number) =>
    seasonalOfLateral(
      gpdPerInchMile * LITRES_PER_SECOND_PER_MM_M_PER_GPD_INCH_MILE,
      hostDiameter.value,
      hostLength.value,
      leaks.value.best / fits.leakMean!,
    );
  const highSeason = flow(highSeasonGpdPerInchMile);
  const year = yearlyMean([
    { flow: highSeason, days: highSeasonDays },
    { flow: flow(lowSeasonGpdPerInchMile), days: DAYS_IN_YEAR - highSeasonDays },
  ]);
  return stated({ highSeason, year }, "assumed", "unit rate of another city's sewers");
}

const DAYS_IN_YEAR = 365;

/** Money by mode. Clear water of unknown amount costs nothing here, and the explanation says that it is left out. */
function moneyOf(
  lateral: Lateral,
  chances: Failure["chances"],
  infiltration: Infiltration | null,
  { failureCosts, assumptions, life }: PlanBasis,
): FailureMoney | null {
  if (failureCosts === null) return null;
  const surface = orAssumed(lateral.surface, assumptions.surface);
  const costs = costsOf(failureCosts);
  // The expected flow is its chance times the flow of one that leaks, so the cost of a leak is the cost of the flow over the chance.
  const leak = chances.infiltration.value.best;
  const treatment =
    infiltration === null || leak === 0
      ? 0
      : treatmentPerYear(infiltration.year, failureCosts.treatment.centsPerCubicMetre) / leak;
  const parts: FailureParts = {
    structural: costOfFailure("structural", surface.value, treatment, costs),
    blockage: costOfFailure("blockage", surface.value, treatment, costs),
    infiltration: costOfFailure("infiltration", surface.value, treatment, costs),
  };
  const bands = byMode((mode) => chances[mode].value);
  const totals = byMode((mode) => sumParts(parts[mode]));
  return {
    surface,
    parts,
    annualLoss: expectedAnnualLoss(bands, totals),
    presentLoss: presentOfDoingNothing(bands, totals, life.horizonYears, fraction(life.discountRate)),
  };
}

const byMode = <T>(of: (mode: FailureMode) => T): Readonly<Record<FailureMode, T>> => ({
  structural: of("structural"),
  blockage: of("blockage"),
  infiltration: of("infiltration"),
});
