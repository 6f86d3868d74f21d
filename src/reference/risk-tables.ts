import * as z from "zod";
import data from "../../shared/risk.json" with { type: "json" };
import { buildings, surfaces } from "../columns/lateral-columns.ts";
import { sourceSchema } from "./source.ts";

const points = z.number().min(1).max(5);
/** Points for grades 0 to 5. */
const pointsByGrade = z.array(points).length(6);

export const riskTablesSchema = z.strictObject({
  likelihood: z.strictObject({
    what: z.string(),
    source: sourceSchema,
    structural: pointsByGrade,
    om: pointsByGrade,
    omSource: sourceSchema,
    /** Points added for no backup, one, and two or more. */
    backups: z.array(z.number().min(0)).length(3),
    backupsSource: sourceSchema,
  }),
  uninspected: z.strictObject({
    what: z.string(),
    source: sourceSchema,
    bands: z
      .array(z.strictObject({ fromAge: z.number().min(0), points }))
      .min(1)
      .refine(
        (bands) =>
          bands[0]?.fromAge === 0 && bands.every((b, i) => i === 0 || b.fromAge > bands[i - 1]!.fromAge),
        {
          message: "age bands start at 0 and rise",
        },
      ),
    ageUnknown: points,
  }),
  consequence: z.strictObject({
    what: z.string(),
    source: sourceSchema,
    building: z.record(z.enum(buildings), points),
    surface: z.record(z.enum(surfaces), points),
    weights: z
      .strictObject({ building: z.number().min(0), surface: z.number().min(0) })
      .refine((w) => Math.abs(w.building + w.surface - 1) < 1e-9, { message: "weights add up to 1" }),
  }),
});

export type RiskTables = z.infer<typeof riskTablesSchema>;

export const houseRiskTables: RiskTables = riskTablesSchema.parse(data);
