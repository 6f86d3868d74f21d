import { countContainers, countKits } from "../engineering/resin-mix.ts";
import { withWaste } from "../engineering/whole-containers.ts";
import { fraction, kilograms } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { numbersOf, type Table } from "../sheet/table.ts";
import { wordCodesOf } from "../sheet/word-codes.ts";
import type { PlannedSheet } from "./plan-sheet.ts";

export const batchComponents = ["resin", "base", "hardener"] as const;
export type BatchComponent = (typeof batchComponents)[number];

/** One component over a district: whole grams of what is weighed, and the full containers that hold it. */
export interface ComponentMass {
  /** `resin` is what is used as supplied. */
  readonly component: BatchComponent;
  readonly grams: number;
  /** Kits where base and hardener come together. */
  readonly containers: number;
  /** In the containers over what the liners take and what is wasted on the way. */
  readonly leftoverGrams: number;
}

/**
 * One resin over a district's chosen liners, one batch a liner. Masses are whole grams rounded up to the scale batch by
 * batch, so districts add up to the program. A tube is mixed for by itself: it has its own wet-out record.
 */
export interface DistrictBatches {
  /** "" is the laterals the city puts in no district. */
  readonly district: string;
  /** Its key in the table of resins. */
  readonly resin: string;
  readonly batches: number;
  /** Batches that are not in place before their resin thickens at the forecast temperature. */
  readonly tooSlow: number;
  /** Batches whose pot life is the supplier's to say. */
  readonly notComputed: number;
  readonly components: readonly ComponentMass[];
  readonly inKits: boolean;
}

/** Batches, masses and containers, by district and then resin: each district buys its own. */
export function batchByDistrict(
  { laterals, materials, seconds }: Pick<PlannedSheet, "laterals" | "materials" | "seconds">,
  { wetOut }: Pick<Basis, "wetOut">,
): readonly DistrictBatches[] {
  const { codes, words } = wordCodesOf(laterals, "district");
  /** By resin, then by code of the district. */
  const found = new Map<string, Sums[]>();
  const sumsOf = (resin: string): Sums[] => {
    const sums = found.get(resin) ?? [];
    found.set(resin, sums);
    return sums;
  };
  const addAll = (table: Table, rowOf: (at: number) => number): void => {
    const resins = wordCodesOf(table, "resin");
    const byCode = resins.words.map((resin) => (resin === "" ? null : sumsOf(resin)));
    const resinGrams = numbersOf(table, "resin_g");
    const baseGrams = numbersOf(table, "base_g");
    const hardenerGrams = numbersOf(table, "hardener_g");
    const slow = numbersOf(table, "over_pot_life");
    for (let at = 0; at < table.rows; at++) {
      const ofResin = byCode[resins.codes[at]!] ?? null;
      if (ofResin === null) continue;
      const code = codes[rowOf(at)]!;
      ofResin[code] ??= noBatches(words[code]!, resins.words[resins.codes[at]!]!);
      const sums = ofResin[code];
      sums.batches++;
      sums.resin_g += resinGrams[at]!;
      sums.base_g += baseGrams[at]!;
      sums.hardener_g += hardenerGrams[at]!;
      if (Number.isNaN(slow[at]!)) sums.notComputed++;
      else sums.tooSlow += slow[at]!;
    }
  };
  addAll(materials, (at) => at);
  const ofSecond = numbersOf(seconds, "lateral_row");
  addAll(seconds, (at) => ofSecond[at]!);
  return [...found.values()]
    .flatMap((ofResin) => Object.values(ofResin))
    .sort((a, b) => compare(a.district, b.district) || compare(a.resin, b.resin))
    .map((sums) => withContainers(sums, wetOut.containers));
}

/** The same masses bought once for all districts: a resin's containers are rounded up once, not district by district. */
export function batchOfAll(
  batches: readonly DistrictBatches[],
  { wetOut }: Pick<Basis, "wetOut">,
): readonly DistrictBatches[] {
  const found = new Map<string, Sums>();
  for (const { resin, batches: count, tooSlow, notComputed, components } of batches) {
    const gramsOf = (part: BatchComponent) =>
      components.find(({ component }) => component === part)?.grams ?? NONE;
    const before = found.get(resin);
    found.set(resin, {
      district: "",
      resin,
      batches: (before?.batches ?? NONE) + count,
      tooSlow: (before?.tooSlow ?? NONE) + tooSlow,
      notComputed: (before?.notComputed ?? NONE) + notComputed,
      resin_g: (before?.resin_g ?? NONE) + gramsOf("resin"),
      base_g: (before?.base_g ?? NONE) + gramsOf("base"),
      hardener_g: (before?.hardener_g ?? NONE) + gramsOf("hardener"),
    });
  }
  return [...found.values()]
    .sort((a, b) => compare(a.resin, b.resin))
    .map((sums) => withContainers(sums, wetOut.containers));
}

/** What a resin that is not there yet, or a component it does not have, adds. */
const NONE = 0;

interface Sums {
  readonly district: string;
  readonly resin: string;
  batches: number;
  tooSlow: number;
  notComputed: number;
  resin_g: number;
  base_g: number;
  hardener_g: number;
}

const noBatches = (district: string, resin: string): Sums => ({
  district,
  resin,
  batches: 0,
  tooSlow: 0,
  notComputed: 0,
  resin_g: 0,
  base_g: 0,
  hardener_g: 0,
});

const compare = (a: string, b: string): number => (a < b ? -1 : a === b ? 0 : 1);

const GRAMS_PER_KILOGRAM = 1000;

function withContainers(sums: Sums, containers: Basis["wetOut"]["containers"]): DistrictBatches {
  const { kit, waste } = containers;
  const { district, resin, batches, tooSlow, notComputed } = sums;
  const head = { district, resin, batches, tooSlow, notComputed };
  const inTwoParts = sums.base_g > 0;
  if (!inTwoParts) {
    const count = containersOf(sums.resin_g, containers.resin, waste);
    return {
      ...head,
      components: [massOf("resin", sums.resin_g, count, containers.resin, waste)],
      inKits: false,
    };
  }
  const each = kit ?? containers;
  const [base, hardener] =
    kit === null
      ? [
          containersOf(sums.base_g, containers.base, waste),
          containersOf(sums.hardener_g, containers.hardener, waste),
        ]
      : kitsOf(sums, kit, waste);
  return {
    ...head,
    components: [
      massOf("base", sums.base_g, base, each.base, waste),
      massOf("hardener", sums.hardener_g, hardener, each.hardener, waste),
    ],
    inKits: kit !== null,
  };
}

const massOf = (
  component: BatchComponent,
  grams: number,
  containers: number,
  container: number,
  waste: number,
): ComponentMass => ({
  component,
  grams,
  containers,
  leftoverGrams: Math.max(
    0,
    Math.round(containers * container * GRAMS_PER_KILOGRAM) - withWaste(grams, waste),
  ),
});

const containersOf = (grams: number, container: number, waste: number): number =>
  countContainers(kilograms(grams / GRAMS_PER_KILOGRAM), fraction(waste), kilograms(container));

function kitsOf(
  { base_g: base, hardener_g: hardener }: Sums,
  kit: { readonly base: number; readonly hardener: number },
  waste: number,
): readonly [number, number] {
  const toBuy = (grams: number) => kilograms((grams * (1 + waste)) / GRAMS_PER_KILOGRAM);
  const count = countKits(
    { base: toBuy(base), hardener: toBuy(hardener) },
    { base: kilograms(kit.base), hardener: kilograms(kit.hardener) },
  );
  return [count, count];
}
