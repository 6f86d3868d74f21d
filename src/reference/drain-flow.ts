import * as z from "zod";
import data from "../../shared/drain-flow.json" with { type: "json" };
import fixtureData from "../../shared/fixture-units.json" with { type: "json" };
import slopeData from "../../shared/minimum-slopes.json" with { type: "json" };
import { convert } from "../quantity/units.ts";
import { sourceSchema } from "./source.ts";

const positive = z.number().positive();

const slopeSetSchema = z.object({
  key: z.string().min(1),
  source: sourceSchema,
  rules: z
    .array(z.object({ upTo: positive.nullable(), slope: positive.max(1), published: z.string() }))
    .min(1),
});

/** A code's least slopes by size: mm, m/m. */
export type SlopeSet = z.infer<typeof slopeSetSchema>;

export const slopeSets: readonly SlopeSet[] = z
  .object({ sets: z.array(slopeSetSchema).min(1) })
  .parse(slopeData).sets;

export const drainFlowSchema = z.strictObject({
  what: z.string(),
  selfCleansing: z.strictObject({ velocity: positive.max(5), source: sourceSchema }),
  sizeSlack: z.strictObject({ value: z.number().min(0).max(0.1), source: sourceSchema }),
  demand: z.strictObject({
    rows: z
      .array(
        z.strictObject({
          units: positive,
          gallonsPerMinute: positive,
          standing: z.enum(["read", "from memory"]),
        }),
      )
      .min(2)
      .refine((rows) => rows.every((row, i) => i === 0 || row.units > rows[i - 1]!.units), {
        message: "fixture units rise",
      }),
    source: sourceSchema,
  }),
});

const table = drainFlowSchema.parse(data);

const fixtureTable = z
  .object({
    source: sourceSchema,
    values: z.array(z.object({ diameter: positive, slope: positive, units: positive })).min(1),
  })
  .parse(fixtureData);

/** What a drain's flow is checked with: velocities in m/s, flows in L/s, diameters in mm, slopes in m/m. */
export const houseDrainFlow = {
  selfCleansing: table.selfCleansing,
  sizeSlack: table.sizeSlack,
  /** Flow expected of fixture units, rising. */
  demand: {
    rows: table.demand.rows.map(({ units, gallonsPerMinute }) => ({
      units,
      flow: convert(gallonsPerMinute, "gpm", "L_per_s"),
    })),
    source: table.demand.source,
  },
  /** Fixture units a drain of a size and slope may carry. */
  capacity: fixtureTable,
};

export interface DrainFlow extends Readonly<typeof houseDrainFlow> {
  /** The code whose least slopes hold; null where the program names none. */
  readonly leastSlopes: SlopeSet | null;
  /** The program's own design flow of a lateral without fixture units, L/s; null where it gives none. */
  readonly designFlow: number | null;
}
