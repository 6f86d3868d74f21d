import * as z from "zod";
import data from "../../shared/standard-scopes.json" with { type: "json" };
import { linerUses, placingMethods, tubeKinds } from "./liner-systems.ts";
import { sourceSchema } from "./source.ts";

const sizes = z.strictObject({ least: z.number().positive(), most: z.number().positive() }).nullable();

/** One standard in the edition whose scope was read: sizes in mm, the longest liner in m; null where it says nothing. */
const scopeSchema = z.strictObject({
  standard: z.string().min(1),
  edition: z.string().min(1),
  uses: z.array(z.enum(linerUses)).min(1),
  tubes: z.array(z.enum(tubeKinds)).min(1),
  placing: z.array(z.enum(placingMethods)).min(1),
  host: sizes,
  main: sizes,
  longest: z.number().positive().nullable(),
  note: z.string().min(1),
  fromMemory: z.boolean(),
});

export type StandardScope = z.infer<typeof scopeSchema>;

export const standardScopesSchema = z.strictObject({
  what: z.string(),
  source: sourceSchema,
  /** How far outside still counts as inside, as a fraction: metric nominal sizes. */
  slack: z.strictObject({ fraction: z.number().min(0).max(0.1), source: sourceSchema }),
  scopes: z.array(scopeSchema).min(1),
});

export type StandardScopes = z.infer<typeof standardScopesSchema>;

export const standardScopes: StandardScopes = standardScopesSchema.parse(data);
