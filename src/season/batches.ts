import { countContainers, countKits } from "../engineering/resin-mix.ts";
import { fraction, kilograms } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import type { PlannedSheet } from "./plan-sheet.ts";

/** Full containers of one component, and what they leave. */
export interface Containers {
  readonly count: number;
  /** In the containers over what the liners take, waste not counted as used. */
  readonly leftoverGrams: number;
}

/**
 * Resin a district's chosen liners take, one batch a liner. Masses are whole grams of what is weighed, rounded up to
 * the scale, so districts add up to the program.
 */
export interface DistrictBatches {
  /** "" is the laterals the city puts in no district. */
  readonly district: string;
  readonly batches: number;
  /** Batches that are not in place before their resin thickens at the forecast temperature. */
  readonly tooSlow: number;
  /** Batches whose pot life is the supplier's to say. */
  readonly notComputed: number;
  /** Resin used as supplied. */
  readonly resinGrams: number;
  readonly baseGrams: number;
  readonly hardenerGrams: number;
  readonly containers: {
    readonly resin: Containers;
    /** Null where base and hardener come in kits. */
    readonly base: Containers | null;
    readonly hardener: Containers | null;
    /** Null where they come apart. */
    readonly kits: (Containers & { readonly leftoverHardenerGrams: number }) | null;
  };
}

/** Batches, masses and containers by district, in the order of the district names: each district buys its own. */
export function batchByDistrict(
  { laterals, materials }: Pick<PlannedSheet, "laterals" | "materials">,
  { wetOut }: Pick<Basis, "wetOut">,
): readonly DistrictBatches[] {
  const districts = new Map<string, Sums>();
  for (let row = 0; row < laterals.rows; row++) {
    if (!(numberAt(materials, "batches", row) > 0)) continue;
    const name = textAt(laterals, "district", row);
    let sums = districts.get(name);
    if (sums === undefined) {
      sums = { batches: 0, tooSlow: 0, notComputed: 0, resin_g: 0, base_g: 0, hardener_g: 0 };
      districts.set(name, sums);
    }
    sums.batches++;
    for (const key of ["resin_g", "base_g", "hardener_g"] as const)
      sums[key] += numberAt(materials, key, row);
    const slow = numberAt(materials, "over_pot_life", row);
    if (Number.isNaN(slow)) sums.notComputed++;
    else sums.tooSlow += slow;
  }
  return [...districts.keys()]
    .sort((a, b) => (a < b ? -1 : 1))
    .map((district) => districtBatches(district, districts.get(district)!, wetOut.containers));
}

interface Sums {
  batches: number;
  tooSlow: number;
  notComputed: number;
  resin_g: number;
  base_g: number;
  hardener_g: number;
}

function districtBatches(
  district: string,
  sums: Sums,
  containers: Basis["wetOut"]["containers"],
): DistrictBatches {
  const { kit } = containers;
  return {
    district,
    batches: sums.batches,
    tooSlow: sums.tooSlow,
    notComputed: sums.notComputed,
    resinGrams: sums.resin_g,
    baseGrams: sums.base_g,
    hardenerGrams: sums.hardener_g,
    containers: {
      resin: contain(sums.resin_g, containers.resin, containers.waste),
      base: kit === null ? contain(sums.base_g, containers.base, containers.waste) : null,
      hardener: kit === null ? contain(sums.hardener_g, containers.hardener, containers.waste) : null,
      kits: kit === null ? null : containKits(sums, kit, containers.waste),
    },
  };
}

const GRAMS_PER_KILOGRAM = 1000;

function contain(grams: number, container: number, waste: number): Containers {
  const count = countContainers(kilograms(grams / GRAMS_PER_KILOGRAM), fraction(waste), kilograms(container));
  return { count, leftoverGrams: Math.round(count * container * GRAMS_PER_KILOGRAM) - grams };
}

function containKits(
  { base_g: base, hardener_g: hardener }: Sums,
  kit: NonNullable<Basis["wetOut"]["containers"]["kit"]>,
  waste: number,
): NonNullable<DistrictBatches["containers"]["kits"]> {
  const withWaste = (grams: number) => kilograms((grams * (1 + waste)) / GRAMS_PER_KILOGRAM);
  const count = countKits(
    { base: withWaste(base), hardener: withWaste(hardener) },
    { base: kilograms(kit.base), hardener: kilograms(kit.hardener) },
  );
  return {
    count,
    leftoverGrams: Math.round(count * kit.base * GRAMS_PER_KILOGRAM) - base,
    leftoverHardenerGrams: Math.round(count * kit.hardener * GRAMS_PER_KILOGRAM) - hardener,
  };
}
