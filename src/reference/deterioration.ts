import * as z from "zod";
import data from "../../shared/deterioration.json" with { type: "json" };
import { sourceSchema } from "./source.ts";

const share = z.number().min(0).max(1);
const valued = <Value extends z.ZodType>(value: Value) => z.strictObject({ value, source: sourceSchema });

/** A chain over grades 1 to 5. Its rows sum to 1 to a billionth: four published decimals do but for doubles. */
const chain = z.strictObject({
  source: sourceSchema,
  rows: z
    .array(
      z
        .array(share)
        .length(5)
        .refine((row) => Math.abs(row.reduce((sum, p) => sum + p, 0) - 1) <= 1e-9, {
          message: "a row adds up to 1",
        }),
    )
    .length(5)
    .refine((rows) => rows.every((row, i) => row.every((p, j) => j >= i || p === 0)), {
      message: "no repair: a grade never gets better",
    }),
});

/** How the network wears, for totals and backlog, and the life taken where a city's own surveys are too few. Years. */
export const deteriorationSchema = z
  .strictObject({
    what: z.string(),
    evidence: sourceSchema,
    chains: z.record(z.string(), chain),
    chosen: z.string(),
    eraStarts: valued(
      z.array(z.int()).refine((years) => years.every((y, i) => i === 0 || y > years[i - 1]!), {
        message: "eras begin in rising years",
      }),
    ),
    yearsPerStep: valued(z.number().positive()),
    newStays: valued(share),
    uselessAfterYears: valued(z.number().positive()),
    assumedLife: z.strictObject({
      scale: z.number().positive(),
      shape: z.number().positive(),
      /** The scale may be this many times longer or shorter. */
      within: z.number().min(1),
      /** Taken for a lateral of unknown year. */
      unknownAge: z.number().positive(),
      source: sourceSchema,
    }),
    renewal: z.strictObject({
      what: z.string(),
      source: sourceSchema,
      /** By treatment: share of the pipes brought back to a class of the forecast, 0 new. */
      byTreatment: z.record(z.string(), z.strictObject({ pipes: share, toGrade: z.int().min(0).max(5) })),
    }),
  })
  .refine(({ chains, chosen }) => Object.hasOwn(chains, chosen), {
    message: "the chosen chain is one of the table",
  });

export type Deterioration = z.infer<typeof deteriorationSchema>;

export const houseDeterioration: Deterioration = deteriorationSchema.parse(data);

/** What a treatment renews of the laterals it is done to. */
export type RenewedShare = Deterioration["renewal"]["byTreatment"][string];

/** The chosen chain with what goes with it, in the shape the forecast and the chance of failure take. */
export const wearOf = ({ chains, chosen, yearsPerStep, newStays, uselessAfterYears }: Deterioration) => ({
  chain: chains[chosen]!.rows,
  yearsPerStep: yearsPerStep.value,
  newStays: newStays.value,
  uselessAfterYears: uselessAfterYears.value,
});
