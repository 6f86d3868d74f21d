import * as z from "zod";
import data from "../../shared/bid-checks.json" with { type: "json" };
import { sourceSchema } from "./source.ts";

export const bidChecksSchema = z.strictObject({
  what: z.string(),
  source: sourceSchema,
  /** Price over estimate. */
  low: z.number().min(0).max(1),
  high: z.number().min(1),
  quantity: z.number().positive().max(1),
});

export type BidChecks = z.infer<typeof bidChecksSchema>;

export const houseBidChecks: BidChecks = bidChecksSchema.parse(data);
