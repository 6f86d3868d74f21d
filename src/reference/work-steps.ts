import { z } from "zod";
import data from "../../shared/work-steps.json" with { type: "json" };
import { treatmentKinds } from "../columns/plan-columns.ts";
import { sourceSchema } from "./source.ts";

export const workPositions = ["house", "street", "yard", "office"] as const;

/** Times worked out for the liner placed, on top of a step's own minutes. */
export const workedTimes = ["insertion", "cure", "cool-down"] as const;
export type WorkedTime = (typeof workedTimes)[number];

/** Treatments that place a liner: only they have such times. */
const lining: ReadonlySet<string> = new Set(["sectional liner", "full-length liner", "connection liner"]);

const stepSchema = z.strictObject({
  step: z.string().min(1),
  position: z.enum(workPositions),
  minutes: z.number().min(0),
  /** Minutes more for each metre of lateral worked. */
  perMetre: z.number().min(0).optional(),
  plus: z.array(z.enum(workedTimes)).optional(),
  /** Done again for each of several sections in one lateral. */
  eachPiece: z.boolean().optional(),
});

export type WorkStep = z.infer<typeof stepSchema>;

export const workStepsSchema = z.strictObject({
  what: z.string(),
  source: sourceSchema,
  shiftMinutes: z.number().int().positive(),
  shiftSource: sourceSchema,
  steps: z
    .record(z.enum([...treatmentKinds, "new cleanout"]), z.array(stepSchema))
    .refine(
      (steps) =>
        Object.entries(steps).every(
          ([work, list]) => lining.has(work) || list.every(({ plus }) => plus === undefined),
        ),
      { message: 'no "plus" but in the steps of a liner: nothing else is inserted or cured' },
    ),
});

export type WorkSteps = z.infer<typeof workStepsSchema>;

export const houseWorkSteps: WorkSteps = workStepsSchema.parse(data);
