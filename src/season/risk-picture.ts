import { numberAt } from "../sheet/table.ts";
import { type CityForecast, forecastCity } from "./city-forecast.ts";
import { type ClearWater, clearWaterByDistrict } from "./clear-water.ts";
import type { PlannedProgram } from "./planned-program.ts";
import { countRiskMatrix, type RiskMatrix } from "./risk-matrix.ts";
import { type ScreenedSewershed, screenSewersheds } from "./sewershed-screening.ts";

/** The batch seen whole: where the risk is, what it costs, how it grows, and its clear water. */
export interface RiskPicture {
  readonly matrix: RiskMatrix;
  /** Cents, not rounded; `without`: laterals whose loss is not known. */
  readonly money: { readonly annualLoss: number; readonly presentLoss: number; readonly without: number };
  readonly forecast: CityForecast;
  readonly water: ClearWater;
  readonly screening: readonly ScreenedSewershed[];
}

export function pictureRisk(program: PlannedProgram): RiskPicture {
  const { laterals } = program;
  const column = (key: string) =>
    Float64Array.from({ length: laterals.rows }, (_, row) => numberAt(laterals, key, row));
  const sum = (values: Float64Array) => values.reduce((s, v) => s + (Number.isNaN(v) ? 0 : v), 0);
  const annual = column("expected_loss");
  return {
    matrix: countRiskMatrix(column("likelihood"), column("consequence"), null),
    money: {
      annualLoss: sum(annual),
      presentLoss: sum(column("present_loss")),
      without: annual.filter((value) => Number.isNaN(value)).length,
    },
    forecast: forecastCity(program),
    water: clearWaterByDistrict(program),
    screening: screenSewersheds(program),
  };
}
