import { z } from "zod";
import data from "../../shared/design-criteria.json" with { type: "json" };
import { surfaces } from "../columns/lateral-columns.ts";
import { sourceSchema } from "./source.ts";

/**
 * What a liner wall is designed for: moduli in MPa, soil unit weight in kN/m³, walls in mm. `deterioration` is
 * "fully" unless the city's specification or a named engineer says otherwise, recorded in `deteriorationBy`.
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
    soilUnitWeight: z.number().min(10).max(30),
    minimumWall: z.number().positive().max(50),
    wheel: z.string().min(1),
    liveLoadMethod: z.enum(["boussinesq", "spread", "depth table", "none"]),
    impactTable: z.string().min(1),
  })
  .refine((c) => c.deterioration === "fully" || c.deteriorationBy.trim() !== "", {
    message:
      'a "partially" deteriorated host needs deteriorationBy: the specification or engineer who says so',
  });

export type DesignCriteria = z.infer<typeof designCriteriaSchema>;

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
