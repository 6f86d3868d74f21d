import * as z from "zod";
import data from "../../shared/soil-moduli.json" with { type: "json" };
import { sourceSchema } from "./source.ts";

export const soilClasses = [
  "fine-grained",
  "fine-grained with coarse",
  "clean coarse",
  "crushed rock",
  "plastic clay",
] as const;
export type SoilClass = (typeof soilClasses)[number];

export const soilCompactions = ["dumped", "slight", "moderate", "high"] as const;
export type SoilCompaction = (typeof soilCompactions)[number];

const values = z.record(z.enum(soilCompactions), z.number().positive()).nullable();

export const soilModuliSchema = z.strictObject({
  what: z.string(),
  source: sourceSchema,
  compactions: z.record(z.enum(soilCompactions), z.string().min(1)),
  classes: z.record(
    z.enum(soilClasses),
    /** As remembered in psi, and in MPa; null where the table has no value for the class. */
    z.strictObject({ label: z.string().min(1), psi: values, megapascals: values }),
  ),
});

export type SoilModuli = z.infer<typeof soilModuliSchema>;

/** Modulus of soil reaction E′ by soil class and compaction. */
export const soilModuli: SoilModuli = soilModuliSchema.parse(data);
