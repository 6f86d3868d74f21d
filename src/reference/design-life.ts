import * as z from "zod";
import data from "../../shared/design-life.json" with { type: "json" };
import { sourceSchema } from "./source.ts";
import { workKinds } from "./works.ts";

/** Lives by work in years, null for what has none; the discount rate is real, a fraction a year. */
export const designLifeSchema = z.strictObject({
  what: z.string(),
  horizonYears: z.number().int().min(1).max(200),
  discountRate: z.number().min(0).max(0.3),
  source: sourceSchema,
  // Shorter than a month nothing is a life, and a horizon full of renewals is never summed up.
  years: z.record(z.enum(workKinds), z.number().min(0.1).max(1_000).nullable()),
  yearsSource: sourceSchema,
  /** What decides between eligible treatments: the program's order, or the least present worth. */
  choose: z.enum(["order", "present worth"]),
});

export type DesignLife = z.infer<typeof designLifeSchema>;

export const houseDesignLife: DesignLife = designLifeSchema.parse(data);
