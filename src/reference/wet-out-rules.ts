import * as z from "zod";
import data from "../../shared/wet-out.json" with { type: "json" };
import { sourceSchema } from "./source.ts";

const positive = z.number().positive();
const amount = z.number().min(0);

/** What wetting out is planned with: °C, kg, minutes, kg/L. */
export const wetOutRulesSchema = z.strictObject({
  what: z.string(),
  /** Where the resin is mixed. */
  forecastTemperature: z.strictObject({ value: z.number().min(-20).max(60), source: sourceSchema }),
  /** What uses up pot life: from mixing to a wet tube, and the way to the pipe. */
  times: z.strictObject({ sinceMixing: amount, perMetre: amount, haul: amount, source: sourceSchema }),
  scale: z.strictObject({ step: positive, ratioTolerance: amount.max(1), source: sourceSchema }),
  /** Masses of full containers; a kit holds base and hardener together and takes the place of both. */
  containers: z.strictObject({
    resin: positive,
    base: positive,
    hardener: positive,
    waste: amount.max(1),
    kit: z.strictObject({ base: positive, hardener: positive }).nullable(),
    source: sourceSchema,
  }),
  /** For the weight of a felt tube only. */
  feltFibreDensity: z.strictObject({ value: positive, source: sourceSchema }),
});

export type WetOutRules = z.infer<typeof wetOutRulesSchema>;

export const houseWetOutRules: WetOutRules = wetOutRulesSchema.parse(data);

/** A shop's own chart: kg of mixed resin for each metre of tube, by stocked diameter and wall in mm. */
export const shopChartSchema = z.strictObject({
  rows: z.array(z.strictObject({ diameter: positive, wall: positive, kilogramsPerMetre: positive })),
  source: sourceSchema,
});

export type ShopChart = z.infer<typeof shopChartSchema>;
