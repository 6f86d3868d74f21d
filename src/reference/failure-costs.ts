import * as z from "zod";
import data from "../../shared/failure-costs.json" with { type: "json" };
import { surfaces } from "../columns/lateral-columns.ts";
import { cents, fraction } from "../quantity/si.ts";
import { sourceSchema } from "./source.ts";

const money = z.int().min(0).transform(cents);
const share = z.number().min(0).max(1).transform(fraction);
const priced = z.strictObject({ cents: money, source: sourceSchema });
const byMode = z.strictObject({ structural: share, blockage: share, source: sourceSchema });

/** What failures cost, in whole cents of the named currency. */
export const failureCostsSchema = z.strictObject({
  what: z.string(),
  /** ISO 4217 code. A program in another currency must bring its own table. */
  currency: z.string().length(3),
  digUp: z.strictObject({ source: sourceSchema, bySurface: z.record(z.enum(surfaces), money) }),
  backupClaim: priced,
  spill: priced,
  clearing: priced,
  backsUp: byMode,
  spills: byMode,
  treatment: z.strictObject({ centsPerCubicMetre: z.number().min(0), source: sourceSchema }),
});

export type FailureCostTable = z.infer<typeof failureCostsSchema>;

export const houseFailureCosts: FailureCostTable = failureCostsSchema.parse(data);

/** The table in the shape the formulas take. */
export const costsOf = ({ digUp, backupClaim, spill, clearing, backsUp, spills }: FailureCostTable) => ({
  digUp: digUp.bySurface,
  backupClaim: backupClaim.cents,
  spill: spill.cents,
  clearing: clearing.cents,
  backsUp,
  spills,
});
