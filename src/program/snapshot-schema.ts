import * as z from "zod";
import { dayFromIso } from "../quantity/calendar.ts";

const hash = z.string().regex(/^[0-9a-f]{64}$/);
const count = z.int().nonnegative();

const savedColumn = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("number"), values: z.array(z.number().nullable()) }),
  z.strictObject({ kind: z.literal("code"), words: z.array(z.string()), codes: z.array(count) }),
  z.strictObject({ kind: z.literal("text"), values: z.array(z.string()) }),
]);

const savedTable = z.strictObject({ rows: count, columns: z.record(z.string(), savedColumn) });

/** A saved run: everything that any other run can be compared with it by, without the city's files of that day. */
export const snapshotSchema = z.strictObject({
  schema: z.literal(1),
  /** SHA-256 of the rest of the file: a changed letter is found. */
  seal: hash,
  saved: z.strictObject({ when: z.string(), who: z.string(), by: z.string() }),
  as_of: z.string().refine((written) => dayFromIso(written) !== null),
  /** The city's files by content. */
  inputs: z.array(z.strictObject({ file: z.string(), sha256: hash })),
  /** As canonical text, so that a reformatted program.json is the same settings. */
  settings: z.strictObject({ sha256: hash, text: z.string() }),
  decisions: z.strictObject({ sha256: hash }),
  /** Worst first; scores in whole steps, as the ranking compares them, null where a recipe gives none. */
  ranking: z.strictObject({
    laterals: z.array(z.string()),
    scores: z.array(z.int().nullable()),
    treatments: z.array(z.string()),
  }),
  /** What the plan was worked out from; see season/saved-tables.ts. */
  values: z.strictObject({
    laterals: savedTable,
    inspections: savedTable,
    first_inspection: z.array(count),
    observations: z.strictObject({ table: savedTable, first: z.array(count) }).optional(),
    decisions: z.array(
      z.strictObject({
        lateral: z.string(),
        column: z.string(),
        value: z.union([z.number(), z.string()]),
        reason: z.string(),
      }),
    ),
  }),
});

export type Snapshot = z.infer<typeof snapshotSchema>;
/** A run as it is, before it is saved. */
export type Run = Omit<Snapshot, "schema" | "seal" | "saved">;

/** Whether offsets cut `parts` rows into as many groups as there are owners. */
const belong = (first: readonly number[], owners: number, parts: number): boolean =>
  first.length === owners + 1 &&
  first[0] === 0 &&
  first.at(-1) === parts &&
  first.every((at, i) => i === 0 || at >= first[i - 1]!);

/** Null when the lists of a snapshot fit each other; otherwise what does not. */
export function misfitOf({ ranking, values }: Snapshot): string | null {
  const { laterals, scores, treatments } = ranking;
  if (scores.length !== laterals.length || treatments.length !== laterals.length)
    return "a ranking with a score and a treatment for each lateral";
  if (new Set(laterals).size !== laterals.length) return "each lateral once in the ranking";
  if (laterals.length !== values.laterals.rows) return "as many laterals in the values as in the ranking";
  if (!belong(values.first_inspection, values.laterals.rows, values.inspections.rows))
    return "surveys that belong to the laterals";
  const seen = values.observations;
  if (seen !== undefined && !belong(seen.first, values.inspections.rows, seen.table.rows))
    return "observations that belong to the surveys";
  const tables = [values.laterals, values.inspections, ...(seen === undefined ? [] : [seen.table])];
  for (const { rows, columns } of tables) {
    for (const [key, column] of Object.entries(columns)) {
      const cells = column.kind === "code" ? column.codes : column.values;
      if (cells.length !== 0 && cells.length !== rows) return `${rows} cells in the column ${key}`;
      if (column.kind === "code" && column.codes.some((code) => code > column.words.length))
        return `a word for each code of the column ${key}`;
    }
  }
  return null;
}
