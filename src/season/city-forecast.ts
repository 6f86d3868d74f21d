import type { TreatmentKind } from "../columns/plan-columns.ts";
import { networkWear } from "../plan/failure.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { type Forecast, forecastGrades } from "./forecast.ts";
import type { PlannedProgram } from "./planned-program.ts";

/** The two futures of a city: left alone, and with the plan's chosen treatments done in the first year. */
export interface CityForecast {
  readonly doNothing: Forecast;
  readonly asPlanned: Forecast;
  /** Laterals the plan renews over their whole length. */
  readonly renewed: number;
  /** Laterals without a grade, spread over the grades by their cohort. */
  readonly notGraded: number;
}

export const FORECAST_YEARS = 20;

/** Treatments that make a whole pipe new. A section or a connection leaves the rest of the pipe as it was. */
export const renewingTreatments: ReadonlySet<string> = new Set<TreatmentKind>([
  "full-length liner",
  "open-cut replacement",
]);

/**
 * Expected number of laterals per grade for twenty years under both futures. Grades start as seen, without the wear since the survey.
 * For totals and backlog only, see {@link forecastGrades}.
 */
export function forecastCity({ laterals, basis }: Pick<PlannedProgram, "laterals" | "basis">): CityForecast {
  const { today, notGraded } = basis.fits;
  const byGrade = today.map(() => 0);
  for (let row = 0; row < laterals.rows; row++) {
    const grade = numberAt(laterals, "structural_grade", row);
    if (renewingTreatments.has(textAt(laterals, "treatment", row)) && !Number.isNaN(grade)) byGrade[grade]!++;
  }
  const wear = networkWear(basis);
  return {
    doNothing: forecastGrades(today, [], FORECAST_YEARS, wear),
    asPlanned: forecastGrades(today, [{ year: 1, byGrade }], FORECAST_YEARS, wear),
    renewed: byGrade.reduce((sum, n) => sum + n, 0),
    notGraded,
  };
}
