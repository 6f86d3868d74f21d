import * as z from "zod";
import { sourceSchema } from "./source.ts";

/**
 * People and measured flows of a sewershed, which is a district of the program. Flows are all sewage, L/s: the mean of 7 to 14 days in
 * high groundwater, and the highest under a storm. The two are never made into one another.
 */
export const sewershedSchema = z.strictObject({
  population: z.int().positive(),
  highGroundwaterFlow: z.number().positive().nullable(),
  stormFlow: z.number().positive().nullable(),
  source: sourceSchema,
});

/** By district, as the program names it. */
export const sewershedsSchema = z.record(z.string(), sewershedSchema);

export type Sewershed = z.infer<typeof sewershedSchema>;
export type Sewersheds = Readonly<z.infer<typeof sewershedsSchema>>;
