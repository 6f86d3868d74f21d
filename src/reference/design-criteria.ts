import * as z from "zod";
import data from "../../shared/design-criteria.json" with { type: "json" };
import { surfaces } from "../columns/lateral-columns.ts";
import { soilClasses, soilCompactions } from "./soil-moduli.ts";
import { sourceSchema } from "./source.ts";

/** A wheel of this name has no load of ours: an engineer states it, or no wall is designed under it. */
export const RAIL = "rail";

/**
 * What a liner wall is designed for: moduli in MPa, soil unit weight in kN/m³, walls in mm, a stated live load in
 * kPa. `deterioration` is "fully" unless the city's specification or a named engineer says otherwise, recorded in `deteriorationBy`.
 */
export const designCriteriaSchema = z
  .strictObject({
    key: z.string().min(1),
    source: sourceSchema,
    deterioration: z.enum(["fully", "partially"]),
    deteriorationBy: z.string(),
    edition: z.enum(["2007b and later", "before 2007b"]),
    strengthBasis: z.enum(["long term", "short term"]),
    safetyFactor: z.number().min(1).max(5),
    enhancement: z.number().min(1).max(20),
    poissonsRatio: z.number().min(0).max(0.5),
    soilModulus: z.number().positive().max(30),
    /** The soil the modulus was read for; null when the specification states the modulus itself. */
    soil: z.strictObject({ class: z.enum(soilClasses), compaction: z.enum(soilCompactions) }).nullable(),
    soilUnitWeight: z.number().min(10).max(30),
    minimumWall: z.number().positive().max(50),
    wheel: z.string().min(1),
    liveLoadMethod: z.enum(["boussinesq", "spread", "depth table", "stated", "none"]),
    /** For the method "boussinesq". */
    impactTable: z.string().min(1),
    /** For the method "depth table". */
    depthTable: z.string().min(1),
    /** For the method "spread": the soil the wheel spreads through. */
    spreadSoil: z.string().min(1),
    /** R, by which a wheel's load is multiplied. */
    liveLoadReduction: z.number().positive().max(1),
    /** An engineer's own figure: for the method "stated", and under a railway by any method. */
    statedLiveLoad: z.number().min(0).max(1000).nullable(),
    statedLiveLoadBy: z.string(),
  })
  .refine((c) => c.deterioration === "fully" || c.deteriorationBy.trim() !== "", {
    message:
      'a "partially" deteriorated host needs deteriorationBy: the specification or engineer who says so',
  })
  .refine((c) => c.liveLoadMethod !== "stated" || c.statedLiveLoad !== null, {
    path: ["liveLoadMethod"],
    message: 'a method that needs nothing more: "stated" needs stated_live_load',
  })
  .refine((c) => c.statedLiveLoad === null || c.statedLiveLoadBy.trim() !== "", {
    path: ["statedLiveLoadBy"],
    message: "the engineer who states the live load",
  });

export type DesignCriteria = z.infer<typeof designCriteriaSchema>;

/** Who says that the host is as deteriorated as it is taken for. */
export const deteriorationSaidBy = ({ deteriorationBy }: DesignCriteria): string =>
  deteriorationBy === "" ? "unless the specification or a named engineer says otherwise" : deteriorationBy;

/** Which surfaces carry the design wheel, a lighter one, or none. */
export const surfaceWheelsSchema = z.strictObject({
  what: z.string(),
  source: sourceSchema,
  values: z.record(z.enum(surfaces), z.string().min(1)),
});

export type SurfaceWheels = z.infer<typeof surfaceWheelsSchema>;

const table = z
  .object({ sets: z.array(designCriteriaSchema).min(1), surfaceWheels: surfaceWheelsSchema })
  .parse(data);

export const designCriteriaSets: readonly DesignCriteria[] = table.sets;
export const houseSurfaceWheels: SurfaceWheels = table.surfaceWheels;
