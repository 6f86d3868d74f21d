import * as z from "zod";
import data from "../../shared/uncertainty.json" with { type: "json" };
import { treatmentKinds } from "../columns/plan-columns.ts";
import { bidItemKeys } from "./bid-items.ts";
import { sourceSchema } from "./source.ts";

/** Factors on the planned value. The distribution put through them is the table's own `shape`. */
const spread = z
  .strictObject({ least: z.number().min(0), best: z.number().positive(), most: z.number().max(10) })
  .refine(({ least, best, most }) => least <= best && best <= most, {
    message: "factors in order: least, best, most",
  });
export type Spread = z.infer<typeof spread>;

const chance = z.number().min(0).max(1);

/** What a treatment may turn out to be when the lateral is opened. */
const change = z.strictObject({
  to: z.enum(treatmentKinds),
  chance,
  /** Structural grade that opening finds; the other treatment is planned and priced as if the survey had found it. */
  foundGrade: z.number().int().min(1).max(5),
  /** Class of prices that the other treatment's cost moves with. */
  prices: z.string(),
  /** Whether its cost moves with the length found. */
  byLength: z.boolean(),
});
export type ChangeOnOpening = z.infer<typeof change>;

export const uncertaintySchema = z
  .strictObject({
    what: z.string(),
    shape: z.enum(["beta-PERT", "triangular"]),
    shapeSource: sourceSchema,
    draws: z.number().int().min(100).max(100_000),
    seed: z.number().int().min(0).max(2_147_483_647),
    drawsSource: sourceSchema,
    /** `productivity` is shared by all crew time, `own` is each lateral's. */
    time: z.strictObject({ productivity: spread, own: spread, source: sourceSchema }),
    /** `bias` is shared by all lengths, `own` is each lateral's. */
    length: z.strictObject({ bias: spread, own: spread, source: sourceSchema }),
    /** `market` is shared by all prices, `ofClass` by those of one class. */
    price: z.strictObject({
      market: spread,
      ofClass: spread,
      classes: z.record(z.string(), z.array(z.enum(bidItemKeys))),
      source: sourceSchema,
    }),
    /** `together` is a factor on all chances. */
    changes: z.strictObject({
      together: spread,
      on: z.partialRecord(z.enum(treatmentKinds), change),
      source: sourceSchema,
    }),
    /** A factor on the days lost of every month. */
    weather: z.strictObject({ times: spread, source: sourceSchema }),
    /** Share of worlds in which the cost with contingency holds. */
    contingencyLevel: z.number().min(0.5).max(0.99),
    contingencySource: sourceSchema,
    estimateClass: z.number().int().min(1).max(5),
    estimateClassSource: sourceSchema,
    classAccuracy: z.array(
      z.strictObject({ class: z.number().int().min(1).max(5), low: z.number(), high: z.number() }),
    ),
    classAccuracySource: sourceSchema,
  })
  .superRefine(({ price, changes }, context) => {
    const names = Object.keys(price.classes);
    for (const [treatment, { prices }] of Object.entries(changes.on)) {
      if (!names.includes(prices))
        context.addIssue({
          code: "custom",
          path: ["changes", "on", treatment, "prices"],
          message: `one of the classes of prices: ${names.join(", ")}`,
        });
    }
  });

export type Uncertainty = z.infer<typeof uncertaintySchema>;
export const houseUncertainty: Uncertainty = uncertaintySchema.parse(data);
