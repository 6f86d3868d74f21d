import { networkWear } from "../plan/failure.ts";
import type { Basis } from "../reference/basis.ts";
import type { RenewedShare } from "../reference/deterioration.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { type Forecast, forecastGrades } from "./forecast.ts";
import type { PlannedProgram } from "./planned-program.ts";

/** The two futures of a city: left alone, and with the plan's chosen treatments done in the first year. */
export interface CityForecast {
  readonly doNothing: Forecast;
  readonly asPlanned: Forecast;
  /** Laterals with a treatment that renews them, or a share of their like. */
  readonly renewed: number;
  /** The same by their shares: two sectional liners at a half each count as one. */
  readonly counted: number;
  /** Laterals without a grade, spread over the grades by their cohort. */
  readonly notGraded: number;
}

export const FORECAST_YEARS = 20;

/**
 * Expected number of laterals per grade for twenty years under both futures. Grades start as seen, without the wear since the survey.
 * For totals and backlog only, see {@link forecastGrades}.
 */
export function forecastCity({ laterals, basis }: Pick<PlannedProgram, "laterals" | "basis">): CityForecast {
  const { today, notGraded } = basis.fits;
  const renewals = new Map<number, number[]>();
  let renewed = 0;
  let counted = 0;
  for (let row = 0; row < laterals.rows; row++) {
    const grade = numberAt(laterals, "structural_grade", row);
    const { pipes, toGrade } = renewedShare(textAt(laterals, "treatment", row), basis);
    // One that is no worse than what the treatment brings it to stays as it is.
    if (pipes === 0 || Number.isNaN(grade) || (toGrade > 0 && grade <= toGrade)) continue;
    const byGrade = renewals.get(toGrade) ?? today.map(() => 0);
    byGrade[grade]! += pipes;
    renewals.set(toGrade, byGrade);
    renewed++;
    counted += pipes;
  }
  const wear = networkWear(basis);
  const inFirstYear = [...renewals].map(([to, byGrade]) => ({ year: 1, byGrade, to }));
  return {
    doNothing: forecastGrades(today, [], FORECAST_YEARS, wear),
    asPlanned: forecastGrades(today, inFirstYear, FORECAST_YEARS, wear),
    renewed,
    counted,
    notGraded,
  };
}

/**
 * What a treatment renews of the laterals it is done to.
 *
 * @throws RangeError for a treatment that the table leaves out: it would silently count as nothing
 */
export function renewedShare(
  treatment: string,
  { deterioration }: Pick<Basis, "deterioration">,
): RenewedShare {
  const share = deterioration.renewal.byTreatment[treatment];
  if (share === undefined)
    throw new RangeError(`renewedShare: no share for the treatment ${JSON.stringify(treatment)}`);
  return share;
}
