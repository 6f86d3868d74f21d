import * as z from "zod";
import data from "../../shared/plausibility.json" with { type: "json" };
import { sourceSchema } from "./source.ts";

export const plausibilitySchema = z.strictObject({
  what: z.string(),
  source: sourceSchema,
  /** A survey saw more than so much of the length on file, and so many metres beyond it. */
  surveyed_over_length: z.strictObject({ share: z.number().min(1), beyond_m: z.number().positive() }),
  /**
   * A lateral lies nowhere near the city: so far from the middle of the others, so many times the distance that is usual there; told where
   * no more than this share of them does.
   */
  place: z.strictObject({
    farthest_m: z.number().positive(),
    over_usual: z.number().min(1),
    share_of_laterals: z.number().positive().max(0.5),
  }),
});

export const plausibility = plausibilitySchema.parse(data);
