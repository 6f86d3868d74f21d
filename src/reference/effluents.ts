import * as z from "zod";
import data from "../../shared/effluents.json" with { type: "json" };
import { effluents as effluentKinds } from "../columns/lateral-columns.ts";
import { sourceSchema } from "./source.ts";

const resinVerdictSchema = z.strictObject({
  verdict: z.enum(["chosen", "allowed", "refused"]),
  because: z.string().min(1),
});

export type ResinVerdict = z.infer<typeof resinVerdictSchema>;

/** What sewage carries and which resins stand it. The limit in °C is a discharge rule of the city, not of a resin. */
export const effluentTableSchema = z
  .strictObject({
    what: z.string(),
    source: sourceSchema,
    dischargeLimit: z.strictObject({
      label: z.string().min(1),
      celsius: z.number().min(0).max(150),
      source: sourceSchema,
    }),
    effluents: z.array(
      z.strictObject({
        key: z.enum(effluentKinds),
        label: z.string().min(1),
        /** By resin key; a resin that is not here is refused. */
        resins: z.record(z.string(), resinVerdictSchema),
      }),
    ),
  })
  .refine(({ effluents }) => effluentKinds.every((kind, i) => effluents[i]?.key === kind), {
    message: `one entry for each of ${effluentKinds.join(", ")}, in this order`,
  });

export type EffluentTable = z.infer<typeof effluentTableSchema>;

export const houseEffluents: EffluentTable = effluentTableSchema.parse(data);
