import {
  INFILTRATION_LIMIT_GPCD,
  type PerCapita,
  peakFlow,
  STORM_LIMIT_GPCD,
  screenInfiltration,
  screenInflow,
  seasonalFlow,
} from "../engineering/infiltration.ts";
import { litresPerSecond } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import type { Sewershed } from "../reference/sewersheds.ts";
import type { PlannedProgram } from "./planned-program.ts";

/** Measured flow of a sewershed for each of its people, against the published limits. */
export interface ScreenedSewershed extends Pick<Sewershed, "population" | "source"> {
  readonly district: string;
  /** In the program's list. One that is not is a name nobody has: its figures screen no lateral's district. */
  readonly laterals: number;
  /** Null where that flow was not measured. */
  readonly infiltration: Screened | null;
  readonly inflow: Screened | null;
}

/** Gallons per person and day, with what that means in words. */
export interface Screened extends PerCapita {
  readonly says: string;
}

/**
 * The published limits of clear water, sewershed by sewershed, as far as the program gives people and measured flows. Never of one
 * lateral: the limits are means over systems. See {@link screenInfiltration} and {@link screenInflow} for source and range.
 */
export function screenSewersheds({
  basis,
  totals,
}: {
  readonly basis: Pick<Basis, "sewersheds">;
  readonly totals: {
    readonly districts: readonly Pick<
      PlannedProgram["totals"]["districts"][number],
      "district" | "laterals"
    >[];
  };
}): readonly ScreenedSewershed[] {
  return Object.entries(basis.sewersheds).map(([district, { population, source, ...flows }]) => {
    const { highGroundwaterFlow, stormFlow } = flows;
    return {
      district,
      population,
      source,
      laterals: totals.districts.find((each) => each.district === district)?.laterals ?? 0,
      infiltration:
        highGroundwaterFlow === null
          ? null
          : inWords(
              screenInfiltration({ population }, seasonalFlow(litresPerSecond(highGroundwaterFlow))),
              `above ${INFILTRATION_LIMIT_GPCD}: a study of infiltration is due`,
              `not above ${INFILTRATION_LIMIT_GPCD}: not excessive`,
            ),
      inflow:
        stormFlow === null
          ? null
          : inWords(
              screenInflow({ population }, peakFlow(litresPerSecond(stormFlow))),
              `above ${STORM_LIMIT_GPCD}: a study of inflow is due`,
              `not above ${STORM_LIMIT_GPCD}: no study due for that alone`,
            ),
    };
  });
}

const inWords = (found: PerCapita, above: string, within: string): Screened => ({
  ...found,
  says: found.exceeds ? above : within,
});
