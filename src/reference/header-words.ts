import * as z from "zod";
import data from "../../shared/header-words.json" with { type: "json" };
import { sourceSchema } from "./source.ts";

const headingWordsSchema = z.strictObject({
  /** The heading means the column by itself. */
  sure: z.array(z.string().min(1)).min(1),
  /** Taken when the file has no `sure` heading. */
  usual: z.array(z.string().min(1)),
  /** Only ever offered to a person. */
  maybe: z.array(z.string().min(1)),
});

export type HeadingWords = z.infer<typeof headingWordsSchema>;

export const headerWordsSchema = z.strictObject({
  what: z.string(),
  source: sourceSchema,
  laterals: z.record(z.string(), headingWordsSchema),
  inspections: z.record(z.string(), headingWordsSchema),
  observations: z.record(z.string(), headingWordsSchema),
});

export type HeaderWords = z.infer<typeof headerWordsSchema>;

/** Words that cities' files use as headings, by file and column. */
export const headerWords: HeaderWords = headerWordsSchema.parse(data);
