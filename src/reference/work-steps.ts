import * as z from "zod";
import data from "../../shared/work-steps.json" with { type: "json" };
import { crewKinds } from "../columns/plan-columns.ts";
import { sourceSchema } from "./source.ts";
import { workKinds } from "./works.ts";

export const workPositions = ["house", "street", "yard", "office"] as const;

/** Times worked out for the liner placed, on top of a step's own minutes. */
export const workedTimes = ["insertion", "cure", "cool-down"] as const;
export type WorkedTime = (typeof workedTimes)[number];

/** Works that place a liner: only they have such times. */
const lining: ReadonlySet<string> = new Set([
  "sectional liner",
  "full-length liner",
  "connection liner",
  "one-piece liner",
]);

const stepSchema = z.strictObject({
  step: z.string().min(1),
  position: z.enum(workPositions),
  crew: z.enum(crewKinds),
  people: z.number().int().min(0),
  equipment: z.array(z.string().min(1)).optional(),
  minutes: z.number().min(0),
  /** Minutes more for each metre of lateral worked. */
  perMetre: z.number().min(0).optional(),
  /** Minutes more for each branch opened again after a liner over the whole length. */
  perBranch: z.number().min(0).optional(),
  plus: z.array(z.enum(workedTimes)).optional(),
  /** Done again for each of several sections in one lateral. */
  eachPiece: z.boolean().optional(),
  /** Steps of the same work that must be done before. */
  after: z.array(z.string()),
  /** In a visit for several works, steps of a kind at one position are done once: before the first work, or after all. */
  shared: z.enum(["set-up", "pack-up"]).optional(),
  /** Whether all but this step's people may go on to the next lateral meanwhile. */
  crewMayLeave: z.literal(true).optional(),
  /** Whether occupants cannot use water meanwhile. */
  noWater: z.literal(true).optional(),
});

export type WorkStep = z.infer<typeof stepSchema>;

/** Only steps written above may be waited for, so there is no circle. */
const waitsOnlyForEarlier = (steps: readonly WorkStep[]): boolean =>
  steps.every(({ step, after }, i) => {
    const above = steps.slice(0, i).map((each) => each.step);
    return !above.includes(step) && after.every((before) => above.includes(before));
  });

/** A shared set-up opens a visit and a shared pack-up ends it. */
const sharedAtTheEnds = (steps: readonly WorkStep[]): boolean => {
  const packUps = new Set(steps.flatMap(({ step, shared }) => (shared === "pack-up" ? [step] : [])));
  return steps.every(
    ({ shared, after }) =>
      (shared !== "set-up" || after.length === 0) && after.every((step) => !packUps.has(step)),
  );
};

const crewSchema = z.strictObject({
  people: z.number().int().min(1).max(20),
  /** Sets of inflation and heating equipment: how many laterals can cure at once. */
  sets: z.number().int().min(1).max(20),
});

/** How days of notice may be counted. */
export const noticeCounts = ["calendar days", "working days"] as const;

export const workStepsSchema = z.strictObject({
  what: z.string(),
  source: sourceSchema,
  shiftMinutes: z.number().int().positive(),
  shiftSource: sourceSchema,
  crews: z.record(z.enum(crewKinds), crewSchema),
  crewsSource: sourceSchema,
  longestOutageMinutes: z.number().int().positive(),
  outageSource: sourceSchema,
  noticeDays: z.number().int().min(0).max(60),
  /** Whether days of notice are counted by the calendar, or only those of the working week that are no holiday. */
  noticeCountsIn: z.enum(noticeCounts),
  noticeSource: sourceSchema,
  /** Hours of the day in which work is allowed; quiet outside. */
  workHours: z
    .strictObject({ from: z.number().min(0).max(24), to: z.number().min(0).max(24) })
    .refine(({ from, to }) => from < to, { message: "a from before its to" }),
  workHoursSource: sourceSchema,
  steps: z
    .record(
      z.enum(workKinds),
      z
        .array(stepSchema)
        .refine(waitsOnlyForEarlier, {
          message: 'names of steps once each, and in "after" only steps written above',
        })
        .refine(sharedAtTheEnds, {
          message: "shared set-ups that wait for nothing, and nothing that waits for a shared pack-up",
        }),
    )
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
