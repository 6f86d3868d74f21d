import * as z from "zod";
import data from "../../shared/hosts.json" with { type: "json" };
import roughnessData from "../../shared/manning-roughness.json" with { type: "json" };
import { type HostMaterial, hostMaterials } from "../columns/lateral-columns.ts";
import { type Source, sourceSchema } from "./source.ts";

const n = z.number().min(0.005).max(0.05);

const roughnessTable = z
  .object({
    values: z.array(
      z.object({ material: z.string(), condition: z.string(), least: n, most: n, source: sourceSchema }),
    ),
  })
  .parse(roughnessData).values;

const rowNamed = z.strictObject({ material: z.string(), condition: z.string() });
const rangeGiven = z
  .strictObject({ least: n, most: n, source: sourceSchema })
  .refine(({ least, most }) => least <= most, { message: "the least n is not above the most" });

/** Manning's n from its smoothest to its roughest, with every document it was read in. */
export interface Roughness {
  readonly least: number;
  readonly most: number;
  readonly condition: string;
  readonly sources: readonly Source[];
}

/** A row of the roughness table by name, all documents together; or a range given in its place. */
function roughnessOf(
  written: z.infer<typeof rowNamed> | z.infer<typeof rangeGiven>,
  condition: string,
): Roughness {
  if ("least" in written) {
    return { least: written.least, most: written.most, condition, sources: [written.source] };
  }
  const rows = roughnessTable.filter(
    (row) => row.material === written.material && row.condition === written.condition,
  );
  if (rows.length === 0)
    throw new RangeError(`hosts: no roughness of ${written.material} in condition ${written.condition}`);
  return {
    least: Math.min(...rows.map((row) => row.least)),
    most: Math.max(...rows.map((row) => row.most)),
    condition: written.condition,
    sources: rows.map((row) => row.source),
  };
}

const hostSchema = z.strictObject({
  sound: z.union([rowNamed, rangeGiven]),
  worn: z.union([rowNamed, rangeGiven]),
  bears: z.number().min(20).max(200).nullable(),
  bearsSource: sourceSchema,
  deforms: z.boolean(),
});

/** What one host material is to a liner. */
export interface Host {
  readonly sound: Roughness;
  readonly worn: Roughness;
  /** Highest temperature it bears during cure, °C; null where cure temperatures do not harm it. */
  readonly bears: number | null;
  readonly bearsSource: Source;
  /** Gives way under heat or pressure. */
  readonly deforms: boolean;
}

export interface HostTable {
  /** From this grade on, a host has its worn roughness. */
  readonly wornFrom: { readonly grade: number; readonly source: Source };
  readonly liner: Roughness;
  readonly values: Readonly<Record<HostMaterial, Host>>;
}

export const hostTableSchema = z.strictObject({
  what: z.string(),
  wornFrom: z.strictObject({ grade: z.number().int().min(0).max(5), source: sourceSchema }),
  liner: z.union([rowNamed, rangeGiven]),
  values: z.record(z.enum(hostMaterials), hostSchema),
});

/** The table with its roughness looked up. */
export function readHosts(written: z.infer<typeof hostTableSchema>): HostTable {
  const entries = Object.entries(written.values).map(([material, { sound, worn, ...host }]) => [
    material,
    { ...host, sound: roughnessOf(sound, "sound"), worn: roughnessOf(worn, "worn") },
  ]);
  return {
    wornFrom: written.wornFrom,
    liner: roughnessOf(written.liner, "new"),
    values: Object.fromEntries(entries) as Record<HostMaterial, Host>,
  };
}

export const writtenHosts: z.infer<typeof hostTableSchema> = hostTableSchema.parse(data);
export const houseHosts: HostTable = readHosts(writtenHosts);
