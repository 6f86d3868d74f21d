import { z } from "zod";
import data from "../../shared/liner-systems.json" with { type: "json" };
import { sourceSchema } from "./source.ts";

const rising = z
  .array(z.number().positive())
  .min(1)
  .refine((v) => v.every((x, i) => i === 0 || x > v[i - 1]!), {
    message: "sizes rise",
  });

/** A kind of liner a crew may bring: moduli and strengths in MPa, diameters and walls in mm, lengths in m. */
export const linerSystemSchema = z.strictObject({
  key: z.string().min(1),
  label: z.string().min(1),
  resin: z.string().min(1),
  shortTermModulus: z.number().positive(),
  flexuralStrength: z.number().positive(),
  modulusRetention: z.number().positive().max(1),
  strengthRetention: z.number().positive().max(1),
  propertySource: sourceSchema,
  stockedDiameters: rising,
  /** How far a host may be from a stocked diameter, as a fraction of it. */
  diameterTolerance: z.number().min(0).max(0.5),
  stockedWalls: rising,
  longestLength: z.number().positive(),
  runIn: z.number().min(0),
  runOut: z.number().min(0),
  voidRatio: z.number().positive().max(1),
  excess: z.number().min(0).max(1),
  stockSource: sourceSchema,
});

export type LinerSystem = z.infer<typeof linerSystemSchema>;

export const linerSystems: readonly LinerSystem[] = z
  .object({ systems: z.array(linerSystemSchema).min(1) })
  .parse(data).systems;
