import * as z from "zod";
import data from "../../shared/assumptions.json" with { type: "json" };
import { buildings, effluents, surfaces } from "../columns/lateral-columns.ts";
import { sourceSchema } from "./source.ts";

const assumed = <Value extends z.ZodType>(value: Value, unit: string) =>
  z.strictObject({ label: z.string().min(1), value, unit: z.literal(unit), source: sourceSchema });

/** Values used where the city's files say nothing: lengths in metres, ovality as a fraction, temperatures in °C. */
export const assumptionsSchema = z.strictObject({
  cover: assumed(z.number().min(0.1).max(15), "m"),
  water_table_depth: assumed(z.number().min(0).max(50), "m"),
  ovality: assumed(z.number().min(0).max(0.1), "fraction"),
  surface: assumed(z.enum(surfaces), "surface"),
  building: assumed(z.enum(buildings), "building"),
  effluent: assumed(z.enum(effluents), "effluent"),
  effluent_temperature: assumed(z.number().min(0).max(100), "°C"),
  branches: assumed(z.number().int().min(0).max(20), "branches"),
});

export type Assumptions = z.infer<typeof assumptionsSchema>;
export type AssumptionKey = keyof Assumptions;

export const houseAssumptions: Assumptions = z.object({ values: assumptionsSchema }).parse(data).values;
