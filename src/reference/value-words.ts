import * as z from "zod";
import data from "../../shared/value-words.json" with { type: "json" };
import { sourceSchema } from "./source.ts";

const words = z.array(z.string().min(1)).min(1);

export const valueWordsSchema = z.strictObject({
  what: z.string(),
  source: sourceSchema,
  /** Cells that say that nothing is known. Compared without case. */
  missing: words,
  yes: words,
  no: words,
  /** First words of a total or subtotal row. */
  totals: words,
  /** By `code` column, then by the column's own word. */
  codes: z.record(z.string(), z.record(z.string(), words)),
});

export type ValueWords = z.infer<typeof valueWordsSchema>;

/** Words that cities write in cells. */
export const valueWords: ValueWords = valueWordsSchema.parse(data);
