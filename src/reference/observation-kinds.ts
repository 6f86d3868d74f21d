import * as z from "zod";
import data from "../../shared/observation-kinds.json" with { type: "json" };
import { sourceSchema } from "./source.ts";

/** What a grade of an observation counts towards; inventory is no defect and counts towards nothing. */
export const observationModes = ["structural", "operation", "inventory"] as const;
export type ObservationMode = (typeof observationModes)[number];

export const observationKindsSchema = z.strictObject({
  what: z.string(),
  source: sourceSchema,
  kinds: z
    .array(
      z.strictObject({
        kind: z.string().min(1),
        mode: z.enum(observationModes),
        /** What it is, for people. */
        means: z.string().min(1),
        /** Other plain words for it; compared without case. */
        words: z.array(z.string().min(1)).min(1),
      }),
    )
    .min(1),
});

export type ObservationKinds = z.infer<typeof observationKindsSchema>;

/** Kinds of things a camera sees, in plain trade words. */
export const observationKinds: ObservationKinds = observationKindsSchema.parse(data);
