import * as z from "zod";
import data from "../../shared/materials.json" with { type: "json" };
import type { TreatmentKind } from "../columns/plan-columns.ts";
import { sourceSchema } from "./source.ts";

const positive = z.number().positive();
const whole = z.number().int().positive();
const waste = z.number().min(0).max(1);

/** Times the whole lateral is run through. */
const passesSchema = z.strictObject({
  camera: z.number().int().min(0),
  cleaning: z.number().int().min(0),
  rootCutting: z.number().int().min(0),
  grout: z.number().int().min(0),
});
export type Passes = z.infer<typeof passesSchema>;

/** What a takeoff is rounded up and counted with: m, L, fractions of the use. */
export const materialRulesSchema = z.strictObject({
  what: z.string(),
  /** Dry tube as it is delivered; a rest of `usableLeft` or more is kept, a shorter one is scrap. */
  rolls: z.strictObject({ length: positive, usableLeft: positive, source: sourceSchema }),
  seals: z.strictObject({ box: whole, waste, source: sourceSchema }),
  bladders: z.strictObject({ lives: whole, source: sourceSchema }),
  /** `perStop`: L for stopping running water before a liner. */
  grout: z.strictObject({
    perMetre: positive,
    perStop: positive,
    container: positive,
    waste,
    source: sourceSchema,
  }),
  /** By treatment; one the plan does not know yet harms nothing. */
  passes: z.strictObject({ values: z.record(z.string(), passesSchema), source: sourceSchema }),
});
export type MaterialRules = z.infer<typeof materialRulesSchema>;

export const houseMaterials: MaterialRules = materialRulesSchema.parse(data);

/** @throws RangeError for a treatment without a row: a table that is not whole is a mistake of ours */
export function passesOf(treatment: TreatmentKind, { passes }: MaterialRules): Passes {
  const found = passes.values[treatment];
  if (found === undefined) throw new RangeError(`passesOf: no passes for ${treatment}`);
  return found;
}
