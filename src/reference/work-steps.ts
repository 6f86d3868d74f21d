import { z } from "zod";
import data from "../../shared/work-steps.json" with { type: "json" };
import { treatmentKinds } from "../columns/plan-columns.ts";
import { sourceSchema } from "./source.ts";

export const workPositions = ["house", "street", "yard", "office"] as const;

const stepSchema = z.strictObject({
  step: z.string().min(1),
  position: z.enum(workPositions),
  minutes: z.number().min(0),
  /** Minutes more for each metre of lateral worked. */
  perMetre: z.number().min(0).optional(),
});

export type WorkStep = z.infer<typeof stepSchema>;

export const workStepsSchema = z.strictObject({
  what: z.string(),
  source: sourceSchema,
  shiftMinutes: z.number().int().positive(),
  shiftSource: sourceSchema,
  steps: z.record(z.enum([...treatmentKinds, "new cleanout"]), z.array(stepSchema)),
});

export type WorkSteps = z.infer<typeof workStepsSchema>;

export const houseWorkSteps: WorkSteps = workStepsSchema.parse(data);
