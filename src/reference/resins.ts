import { z } from "zod";
import data from "../../shared/resins.json" with { type: "json" };
import { sourceSchema } from "./source.ts";

/** A generic resin: densities in kg/L of the mix and of its parts; a mix ratio never stands without its basis. */
const resinSchema = z.object({
  key: z.string().min(1),
  label: z.string().min(1),
  cure: z.string().min(1),
  density: z.object({ used: z.number().positive(), source: sourceSchema }),
  mix: z
    .object({
      basis: z.enum(["by weight", "by volume"]),
      base: z.number().positive(),
      hardener: z.number().positive(),
      baseDensity: z.number().positive(),
      hardenerDensity: z.number().positive(),
      source: sourceSchema,
    })
    .optional(),
});

export type Resin = z.infer<typeof resinSchema>;

export const resins: readonly Resin[] = z.object({ resins: z.array(resinSchema).min(1) }).parse(data).resins;
