import { numberAt } from "../sheet/table.ts";
import { type CityForecast, forecastCity } from "./city-forecast.ts";
import { type ClearWater, clearWaterByDistrict } from "./clear-water.ts";
import type { PlannedProgram } from "./planned-program.ts";
import { countRiskMatrix, type RiskMatrix } from "./risk-matrix.ts";
import { type ScreenedSewershed, screenSewersheds } from "./sewershed-screening.ts";
import { sparedByDone } from "./spared-by-done.ts";

/** The batch seen whole: where the risk is, what it costs, how it grows, and its clear water. */
export interface RiskPicture {
  readonly matrix: RiskMatrix;
  /** Cents, not rounded, of laterals that are done after their work; `without`: laterals whose loss is not known. */
  readonly money: {
    readonly annualLoss: number;
    readonly presentLoss: number;
    readonly without: number;
    readonly done: DoneMoney;
  };
  readonly forecast: CityForecast;
  readonly water: ClearWater;
  readonly screening: readonly ScreenedSewershed[];
}

/** What is taken off for the laterals that are done. */
export interface DoneMoney {
  readonly laterals: number;
  /** Cents a year, and of today over the horizon. */
  readonly annualLoss: number;
  readonly presentLoss: number;
}

export function pictureRisk(program: PlannedProgram): RiskPicture {
  const { laterals } = program;
  const column = (key: string) =>
    Float64Array.from({ length: laterals.rows }, (_, row) => numberAt(laterals, key, row));
  const sum = (values: Float64Array) => values.reduce((s, v) => s + (Number.isNaN(v) ? 0 : v), 0);
  const annual = column("expected_loss");
  const done = doneMoney(program);
  return {
    matrix: countRiskMatrix(column("likelihood"), column("consequence"), null),
    money: {
      annualLoss: sum(annual) - done.annualLoss,
      presentLoss: sum(column("present_loss")) - done.presentLoss,
      without: annual.filter((value) => Number.isNaN(value)).length,
      done,
    },
    forecast: forecastCity(program),
    water: clearWaterByDistrict(program),
    screening: screenSewersheds(program),
  };
}

function doneMoney(program: PlannedProgram): DoneMoney {
  const spared = sparedByDone(program);
  const sum = (key: "annualLoss" | "presentLoss") => spared.reduce((total, each) => total + each[key], 0);
  return { laterals: spared.length, annualLoss: sum("annualLoss"), presentLoss: sum("presentLoss") };
}
