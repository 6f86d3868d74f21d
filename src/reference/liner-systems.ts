import * as z from "zod";
import data from "../../shared/liner-systems.json" with { type: "json" };
import { effluents } from "../columns/lateral-columns.ts";
import { sourceSchema } from "./source.ts";

/** What a liner is for. A one-piece liner lines a whole lateral and its connection from the main, in one piece. */
export const linerUses = ["full-length", "section", "connection", "one-piece"] as const;
export type LinerUse = (typeof linerUses)[number];

/** Uses that every program has a system for. */
export const usualUses = ["full-length", "section", "connection"] as const satisfies readonly LinerUse[];
export type UsualUse = (typeof usualUses)[number];

/** All uses a program chooses a system for; no crew is taken to bring one-piece liners unless the program says so. */
export const plannedUses = [...usualUses, "one-piece"] as const satisfies readonly LinerUse[];
export type PlannedUse = (typeof plannedUses)[number];

/** Uses whose liner has a part in the main. */
export const isInMain = (use: PlannedUse): use is "connection" | "one-piece" =>
  use === "connection" || use === "one-piece";

export const tubeKinds = ["felt", "glass"] as const;
export const placingMethods = [
  "inverted",
  "pulled in and inflated",
  "pushed or pulled section",
  "launched from the main",
] as const;
export type PlacingMethod = (typeof placingMethods)[number];

export const cureMethods = ["ambient", "hot water", "steam", "light"] as const;
export type CureMethod = (typeof cureMethods)[number];

export const mainParts = ["full circle", "brim"] as const;
export type MainPartKind = (typeof mainParts)[number];

const rising = z
  .array(z.number().positive())
  .min(1)
  .refine((v) => v.every((x, i) => i === 0 || x > v[i - 1]!), {
    message: "sizes rise",
  });

const sizeRange = z
  .strictObject({ least: z.number().positive(), most: z.number().positive() })
  .refine(({ least, most }) => least < most, { message: "the least size is below the most" });

/** What the tube is made of: felt by the voids its resin fills, glass by the fibre's part of the mass; density in kg/L. */
const tubeSchema = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("felt"), voidRatio: z.number().positive().max(1) }),
  z.strictObject({
    kind: z.literal("glass"),
    fibreMassFraction: z.number().min(0).max(0.9),
    fibreDensity: z.number().positive(),
  }),
]);

export type Tube = z.infer<typeof tubeSchema>;

const hotPropertiesSchema = z.strictObject({
  temperature: z.number().min(0).max(200),
  modulus: z.number().positive(),
  strength: z.number().positive(),
});

/**
 * A kind of liner a crew may bring: moduli and strengths in MPa, diameters and walls in mm, lengths in m, temperatures
 * in °C, bends in degrees, parts as fractions.
 */
export const linerSystemSchema = z
  .strictObject({
    key: z.string().min(1),
    label: z.string().min(1),
    uses: z.array(z.enum(linerUses)).min(1),
    resin: z.string().min(1),

    tube: tubeSchema,
    excess: z.number().min(0).max(1),
    tubeSource: sourceSchema,
    /** A calibration tube that stays in the pipe, inside the liner: felt, in mm of wall, soaked with the same resin. */
    calibrationTube: z
      .strictObject({
        thickness: z.number().positive(),
        voidRatio: z.number().positive().max(1),
        source: sourceSchema,
      })
      .optional(),

    shortTermModulus: z.number().positive(),
    flexuralStrength: z.number().positive(),
    /** Part kept in the long term; null when nobody knows, and then no wall is designed. */
    modulusRetention: z.number().positive().max(1).nullable(),
    strengthRetention: z.number().positive().max(1).nullable(),
    propertySource: sourceSchema,

    /** Service temperature up to which the properties above are taken to hold. */
    propertiesUpTo: z.number().min(0).max(200),
    /** What the resin is rated for: a limit, never design data. */
    temperatureRating: z.number().min(0).max(200),
    /** Long-term properties measured at higher temperatures, rising; empty when there are none. */
    longTermModulusAt: z
      .array(hotPropertiesSchema)
      .refine((rows) => rows.every((row, i) => i === 0 || row.temperature > rows[i - 1]!.temperature), {
        message: "temperatures rise",
      }),
    temperatureSource: sourceSchema,

    resists: z.array(z.enum(effluents)),
    chemistrySource: sourceSchema,

    stockedDiameters: rising,
    /** How far a host may be from a stocked diameter, as a fraction of it. */
    diameterTolerance: z.number().min(0).max(0.5),
    stockedWalls: rising,
    runIn: z.number().min(0),
    runOut: z.number().min(0),
    stockSource: sourceSchema,

    hostDiameters: sizeRange,
    greatestBend: z.number().min(0).max(180),
    /** (largest − smallest) ÷ smallest inside diameter that one liner bridges. */
    sizeChangeBridged: z.number().min(0).max(1),
    longestLength: z.number().positive(),
    reachSource: sourceSchema,

    /** The part in the main, for a connection or a one-piece liner. */
    main: z
      .strictObject({
        parts: z.array(z.enum(mainParts)).min(1),
        diameters: sizeRange,
        stockedWalls: rising,
        source: sourceSchema,
      })
      .nullable(),

    placing: z.array(z.enum(placingMethods)).min(1),
    cures: z.array(z.enum(cureMethods)).min(1),
    workSource: sourceSchema,
  })
  .refine((s) => (s.main !== null) === s.uses.some((use) => use === "connection" || use === "one-piece"), {
    message: "a connection or one-piece liner has a part in the main, and no other has",
  });

export type LinerSystem = z.infer<typeof linerSystemSchema>;

export const linerSystems: readonly LinerSystem[] = z
  .object({ systems: z.array(linerSystemSchema).min(1) })
  .parse(data).systems;
