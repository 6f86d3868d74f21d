import type { TreatmentKind } from "../columns/plan-columns.ts";
import {
  judgeRemoval,
  type RemovalWorth,
  removalBySewershed,
  type SeasonalFlow,
  type SewershedRemoval,
  type TreatedFlow,
  treatmentPerYear,
  type YearlyFlow,
} from "../engineering/infiltration.ts";
import { reachedBy } from "../plan/after-work.ts";
import { fraction } from "../quantity/si.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { ofChosenOffers } from "./chosen-offers.ts";
import type { PlannedProgram } from "./planned-program.ts";

/** Clear water of a district before the plan. */
export interface DistrictWater {
  readonly district: string;
  /** L/s in the season of high groundwater, of all laterals with a size. */
  readonly flow: number;
  readonly unsized: number;
  /** Cents a year to transport and treat it, not rounded; null without costs in this currency, or a rate of the season. */
  readonly treatment: number | null;
  /** What keeping it out costs and saves; null where nothing is kept out, or money is not known. */
  readonly worth: RemovalWorth | null;
}

/** Clear water of the city and what the plan keeps out, by district. */
export interface ClearWater {
  /** In the order of the district names. */
  readonly before: readonly DistrictWater[];
  /** Districts in which the plan seals a lateral, or a part of one. */
  readonly removed: readonly SewershedRemoval<SeasonalFlow>[];
  /** Against those treatments kept up; null without costs in this currency, or where one of them has no price. */
  readonly worth: RemovalWorth | null;
}

/**
 * What treatments keep out: the part that seals, of the part of the infiltration that comes in where their works are, by the same
 * tables as what each lateral's offers keep out (plan/after-work.ts). Reported by district because what is kept out of one pipe rises and finds the next.
 * What is saved every year of the horizon is set against the present worth of the work with its renewals over the same years: grout that
 * is done once does not hold for fifty.
 */
export function clearWaterByDistrict({ laterals, offers, basis, totals }: PlannedProgram): ClearWater {
  const { sealed, migration } = basis.failureModes.infiltration;
  const sums = new Map(totals.districts.map(({ district }) => [district, { flow: 0, unsized: 0, kept: 0 }]));
  // Of the treatment and its renewals; missing where one has no price.
  const worths = ofChosenOffers(offers, "present_worth", laterals.rows);
  const treated: TreatedFlow<SeasonalFlow>[] = [];
  for (let row = 0; row < laterals.rows; row++) {
    const district = textAt(laterals, "district", row);
    const flow = numberAt(laterals, "infiltration", row);
    const here = sums.get(district)!;
    if (Number.isNaN(flow)) {
      here.unsized++;
      continue;
    }
    here.flow += flow;
    const treatment = textAt(laterals, "treatment", row) as TreatmentKind;
    const reached = reachedBy(basis.treatments.works[treatment], basis.effects);
    if (reached.most === 0) continue;
    const part = {
      least: sealed.least * reached.least,
      best: sealed.best * reached.best,
      most: sealed.most * reached.most,
    };
    treated.push({ sewershed: district, before: flow as SeasonalFlow, sealed: part });
    here.kept += worths[row]!;
  }
  const removed = removalBySewershed(treated, migration);
  const keptOut = (district: string) => removed.filter(({ sewershed }) => sewershed === district);
  const worth = [...sums.values()].reduce((sum, { kept }) => sum + kept, 0);
  return {
    before: [...sums].map(([district, { flow, unsized, kept }]) => ({
      district,
      flow,
      unsized,
      treatment: yearlyTreatment(flow, basis),
      worth: judgeKept(keptOut(district), kept, basis),
    })),
    removed,
    worth: judgeKept(removed, worth, basis),
  };
}

/** Null where nothing is kept out, or the money is not known. `worth`: of the work and its renewals. */
function judgeKept(
  removed: ClearWater["removed"],
  worth: number,
  basis: PlannedProgram["basis"],
): RemovalWorth | null {
  const season = removed.reduce((sum, { removed: flow }) => sum + flow.best, 0);
  const saved = yearlyTreatment(season, basis);
  if (removed.length === 0 || saved === null || Number.isNaN(worth)) return null;
  return judgeRemoval(worth, saved, fraction(basis.life.discountRate), basis.life.horizonYears);
}

/** Cents a year to transport and treat a flow that is this in the season of high groundwater. */
function yearlyTreatment(
  season: number,
  { failureCosts, failureModes }: PlannedProgram["basis"],
): number | null {
  const { highSeasonGpdPerInchMile, lowSeasonGpdPerInchMile, highSeasonDays } =
    failureModes.infiltration.unitRate;
  if (failureCosts === null || highSeasonGpdPerInchMile === 0) return null;
  // Every lateral's low season stands to its high season as the unit rates do, so the year does as well.
  const part = highSeasonDays / 365;
  const yearOverSeason = part + (1 - part) * (lowSeasonGpdPerInchMile / highSeasonGpdPerInchMile);
  return treatmentPerYear((season * yearOverSeason) as YearlyFlow, failureCosts.treatment.centsPerCubicMetre);
}
