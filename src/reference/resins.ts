import * as z from "zod";
import data from "../../shared/resins.json" with { type: "json" };
import { sourceSchema } from "./source.ts";

/** A generic resin: densities in kg/L of the mix and of its parts; a mix ratio never stands without its basis. */
export const resinSchema = z.object({
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
  /** Of the mixed resin of a two-part epoxy; others go by their supplier's table. */
  potLife: z
    .object({
      minutes: z.number().positive(),
      atCelsius: z.number(),
      factorPerTenDegrees: z.number().min(1.01).max(5),
      source: sourceSchema,
    })
    .optional(),
});

export type Resin = z.infer<typeof resinSchema>;

const table = z
  .object({
    resins: z.array(resinSchema).min(1),
    potLifeMargin: z.object({ used: z.number().positive().max(1), source: sourceSchema }),
  })
  .parse(data);

export const resins: readonly Resin[] = table.resins;

/** Part of the pot life that wet-out, haul and insertion may take. */
export type PotLifeMargin = typeof table.potLifeMargin;
export const housePotLifeMargin: PotLifeMargin = table.potLifeMargin;
