import * as z from "zod";
import data from "../../shared/placing-methods.json" with { type: "json" };
import { type PlacingMethod, placingMethods, plannedUses } from "./liner-systems.ts";
import { sourceSchema } from "./source.ts";

const amount = z.number().min(0);
const positive = z.number().positive();

/** A pull: friction without unit, forces in N. */
const pullSchema = z.strictObject({
  winchAt: z.enum(["main", "house"]),
  friction: amount.max(2),
  ropeFriction: amount.max(2),
  holdBack: amount,
  winchLimit: positive,
  tubeLimit: positive,
  source: sourceSchema,
});

const methodSchema = z.strictObject({
  key: z.enum(placingMethods),
  label: z.string().min(1),
  /** Where people must stand; two ends means both at once. */
  ends: z.array(z.enum(["house", "street"])).min(1),
  /** Null where nothing is pulled through the lateral. */
  pull: pullSchema.nullable(),
  source: sourceSchema,
});

export type Placing = z.infer<typeof methodSchema>;

/** Rates in metres per minute, pressures in kPa, heads in m, the trap seal in mm of water, turns in degrees. */
export const placingSchema = z.strictObject({
  what: z.string(),
  insertionRate: z
    .strictObject({ slowest: positive, fastest: positive, source: sourceSchema })
    .refine((rate) => rate.slowest <= rate.fastest, { message: "the slowest rate is not above the fastest" }),
  methods: z
    .array(methodSchema)
    .refine(
      (methods) =>
        methods.length === placingMethods.length &&
        new Set(methods.map(({ key }) => key)).size === placingMethods.length,
      { message: `each way of placing once: ${placingMethods.join(", ")}` },
    ),
  /** How a liner of each use is placed where the program does not say and its system allows it. */
  usual: z.strictObject({
    values: z.record(z.enum(plannedUses), z.enum(placingMethods)),
    source: sourceSchema,
  }),
  /** What is taken of the path where the city says nothing. */
  path: z.strictObject({
    bends: z.number().int().min(0).max(50),
    bendDegrees: amount.max(180),
    radiusInDiameters: positive,
    slope: amount.max(1),
    source: sourceSchema,
  }),
  inflation: z.strictObject({
    /** Over the inward heads. */
    margin: amount,
    /** Sewage standing in branches that the tube holds back. */
    branchHead: amount,
    bladder: positive,
    host: positive,
    source: sourceSchema,
    building: z.enum(["isolated", "open"]),
    trapSeal: positive,
    buildingSource: sourceSchema,
  }),
});

export type PlacingTable = z.infer<typeof placingSchema>;

export const housePlacing: PlacingTable = placingSchema.parse(data);

/** @throws RangeError for a method the table does not have: its schema asks for each. */
export function placingNamed(table: PlacingTable, key: PlacingMethod): Placing {
  const found = table.methods.find((method) => method.key === key);
  if (found === undefined)
    throw new RangeError(`placingNamed: no way of placing named ${JSON.stringify(key)}`);
  return found;
}
