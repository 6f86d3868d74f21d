// As a namespace, here and everywhere: asked for by name all of zod comes along, 850 kB that every start would compile.
import * as z from "zod";

// Each table is read once. Compiling a reader of its own for every schema first costs more than the reading.
z.config({ jitless: true });

/**
 * Where a value comes from. An assumption is a source too: its document is "Assumption" and its note says whose.
 * No table of the program is without one; the workbook's basis sheet prints them.
 */
export const sourceSchema = z.strictObject({
  document: z.string().min(1),
  edition: z.string().min(1).optional(),
  at: z.string().min(1).optional(),
  note: z.string().min(1).optional(),
});

export type Source = z.infer<typeof sourceSchema>;

/** One line for people: `City of Nashua NH, cured-in-place pipe specification, 2019, design parameters. Note.` */
export function describeSource(source: Source): string {
  const place = [source.document, source.edition, source.at].filter((part) => part !== undefined).join(", ");
  return source.note === undefined ? place : `${place}. ${source.note}`;
}

/** Whether a value rests on an assumption instead of a published or city document. */
export const isAssumption = (source: Source): boolean => source.document === "Assumption";
