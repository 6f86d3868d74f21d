import * as z from "zod";
import data from "../../shared/treatments.json" with { type: "json" };
import { surfaces } from "../columns/lateral-columns.ts";
import { treatmentKinds } from "../columns/plan-columns.ts";
import { mainParts } from "./liner-systems.ts";
import { observationKinds } from "./observation-kinds.ts";
import { sourceSchema } from "./source.ts";
import { workKinds } from "./works.ts";

const grade = z.number().int().min(0).max(5);
const metres = z.number().positive();
const seenKind = z.enum(observationKinds.kinds.map(({ kind }) => kind) as [string, ...string[]]);

/**
 * A liner of a lateral's joint with the main, all of it the user's: lengths in metres, the brim's width in mm, the
 * angle between lateral and main in degrees.
 */
export const connectionSchema = z
  .strictObject({
    mainPart: z.enum(mainParts),
    mainEachSide: metres,
    brimWidth: z.number().positive().max(1000),
    lengthUpLateral: metres,
    junction: z.enum(["tee", "wye"]),
    junctionAngle: z.number().min(15).max(90),
    source: sourceSchema,
  })
  .refine((c) => (c.junction === "tee") === (c.junctionAngle === 90), {
    path: ["junctionAngle"],
    message: "90 degrees for a tee, less for a wye",
  });

export type ConnectionRules = z.infer<typeof connectionSchema>;

/** Thresholds by grade, lengths in metres, ovality as a fraction, times in years. */
export const treatmentRulesSchema = z.strictObject({
  source: sourceSchema,
  thresholds: z.strictObject({
    lineFromStructural: grade,
    digFromStructural: grade,
    cleanFromOm: grade,
    connectionFrom: grade,
    leaveUpToStructural: grade,
    leaveUpToOm: grade,
    sectionalMostDefects: z.number().int().min(1),
    greatestOvality: z.number().min(0).max(0.1),
    surveyTooOldYears: z.number().positive(),
    joinSurveysWithinDays: z.number().int().min(0),
  }),
  thresholdSources: z.record(z.string(), sourceSchema),
  reinspectAfterYears: z.strictObject({
    source: sourceSchema,
    byGrade: z.array(z.number().positive()).length(6),
  }),
  /** The first eligible treatment in this order is the plan's choice. */
  order: z
    .array(z.enum(treatmentKinds))
    .refine(
      (order) => new Set(order).size === treatmentKinds.length && order.length === treatmentKinds.length,
      {
        message: `the order names each treatment once: ${treatmentKinds.join(", ")}`,
      },
    ),
  /** What each treatment is made of, in the order of doing it. */
  works: z.record(z.enum(treatmentKinds), z.array(z.enum(workKinds))),
  sectional: z.strictObject({
    stockedLengths: z.strictObject({ values: z.array(metres).min(1), unit: z.literal("m") }),
    overlapEachSide: metres,
    /** The shortest that a defect is taken for. */
    defectLength: metres,
    source: sourceSchema,
    /** Least length over which sections may lie on each other; null where they never do. */
    lap: z.number().min(0).nullable(),
    /** What no section may lie over, or begin or end at, and how far around it. */
    keepClear: z.array(
      z.strictObject({
        name: z.string().min(1),
        kinds: z.array(seenKind).min(1),
        bars: z.enum(["liner", "end"]),
        clearEachSide: metres,
      }),
    ),
    /** Kinds of which a section over one is its repair. */
    repairs: z.array(seenKind),
    placingSource: sourceSchema,
  }),
  connection: connectionSchema,
  openCut: z.strictObject({ trenchWidth: metres, source: sourceSchema }),
  /** Pits dug for pipe bursting: the surface restored over each, m². */
  bursting: z.strictObject({
    pits: z.array(
      z.strictObject({ name: z.string().min(1), surface: z.enum(surfaces), area: z.number().positive() }),
    ),
    source: sourceSchema,
  }),
});

export type TreatmentRules = z.infer<typeof treatmentRulesSchema>;

export const houseTreatmentRules: TreatmentRules = treatmentRulesSchema.parse(data);
