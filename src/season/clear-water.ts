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
import { fraction } from "../quantity/si.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { renewingTreatments } from "./city-forecast.ts";
import type { PlannedProgram } from "./planned-program.ts";

/** Clear water of the city and what the plan keeps out, by district. */
export interface ClearWater {
  /** L/s in the season of high groundwater, of all laterals with a size, in the order of the district names. */
  readonly before: readonly { readonly district: string; readonly flow: number; readonly unsized: number }[];
  /** Districts in which the plan seals a lateral. */
  readonly removed: readonly SewershedRemoval<SeasonalFlow>[];
  /** Against the cost of those treatments; null without costs in this currency, or where one of them has no price. */
  readonly worth: RemovalWorth | null;
}

/**
 * What renewal over the whole length keeps out. A section or a connection seals a part that nobody has measured, so it counts for
 * nothing here. Reported by district because what is kept out of one pipe rises and finds the next.
 */
export function clearWaterByDistrict({ laterals, basis, totals }: PlannedProgram): ClearWater {
  const { sealed, migration, unitRate } = basis.failureModes.infiltration;
  const before = new Map(totals.districts.map(({ district }) => [district, { flow: 0, unsized: 0 }]));
  const treated: TreatedFlow<SeasonalFlow>[] = [];
  let cost = 0;
  for (let row = 0; row < laterals.rows; row++) {
    const district = textAt(laterals, "district", row);
    const flow = numberAt(laterals, "infiltration", row);
    const sums = before.get(district)!;
    if (Number.isNaN(flow)) {
      sums.unsized++;
      continue;
    }
    sums.flow += flow;
    if (!renewingTreatments.has(textAt(laterals, "treatment", row))) continue;
    treated.push({ sewershed: district, before: flow as SeasonalFlow, sealed });
    cost += numberAt(laterals, "cost", row);
  }
  const removed = removalBySewershed(treated, migration);
  return {
    before: [...before].map(([district, sums]) => ({ district, ...sums })),
    removed,
    worth: worthOf(removed, cost, unitRate, basis),
  };
}

function worthOf(
  removed: ClearWater["removed"],
  cost: number,
  {
    highSeasonGpdPerInchMile,
    lowSeasonGpdPerInchMile,
    highSeasonDays,
  }: PlannedProgram["basis"]["failureModes"]["infiltration"]["unitRate"],
  { failureCosts, life }: PlannedProgram["basis"],
): RemovalWorth | null {
  if (failureCosts === null || Number.isNaN(cost) || highSeasonGpdPerInchMile === 0) return null;
  // Every lateral's low season stands to its high season as the unit rates do, so the year does as well.
  const part = highSeasonDays / 365;
  const yearOverSeason = part + (1 - part) * (lowSeasonGpdPerInchMile / highSeasonGpdPerInchMile);
  const season = removed.reduce((sum, { removed: flow }) => sum + flow.best, 0);
  const saved = treatmentPerYear(
    (season * yearOverSeason) as YearlyFlow,
    failureCosts.treatment.centsPerCubicMetre,
  );
  return judgeRemoval(cost, saved, fraction(life.discountRate), life.horizonYears);
}
