import * as z from "zod";
import data from "../../shared/treatment-effects.json" with { type: "json" };
import { sourceSchema } from "./source.ts";
import { workKinds } from "./works.ts";

const share = z.number().min(0).max(1);
const shares = z
  .strictObject({ least: share, best: share, most: share })
  .refine(({ least, best, most }) => least <= best && best <= most, { message: "least ≤ best ≤ most" });

/** What each work leaves of the yearly chances of failure, and of the infiltration reaches, while it lasts. */
export const treatmentEffectsSchema = z.strictObject({
  what: z.string(),
  works: z.record(
    z.enum(workKinds),
    z
      .strictObject({ structural: shares, blockage: shares, reached: shares, source: sourceSchema })
      // A work that changes no chance by itself.
      .nullable(),
  ),
});

export type TreatmentEffects = z.infer<typeof treatmentEffectsSchema>;
export const houseTreatmentEffects: TreatmentEffects = treatmentEffectsSchema.parse(data);
