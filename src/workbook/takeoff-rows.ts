import type { TakeoffItem } from "../plan/takeoff.ts";
import type { DistrictBatches } from "../season/batches.ts";
import type { Takeoff, TakeoffGroup, TakeoffLine } from "../season/takeoff.ts";

/** One row of a takeoff as it is read: what is used, what is bought for it, what is over. */
export interface TakeoffRow {
  readonly district: string;
  readonly material: TakeoffItem | "resin";
  readonly variant: string;
  /** mm, mL, cm², each; g of resin. */
  readonly unit: TakeoffLine["unit"] | "g";
  readonly use: number;
  /** Bought whole: how many of what; null where it is not bought by the piece. */
  readonly bought: { readonly what: string; readonly count: number } | null;
  /** In the unit: over the use, of a tube what is kept. */
  readonly left: number | null;
  /** Of a tube: scrap in mm. */
  readonly scrap: number | null;
  /** Of a tube: the fewest rolls there can be, by the stronger bound. */
  readonly fewest: number | null;
}

/** Rows of one district or of the program. */
export function takeoffRows({ district, lines, resins }: TakeoffGroup): readonly TakeoffRow[] {
  return [...lines.map((line) => rowOf(district, line)), ...resins.flatMap((of) => resinRows(district, of))];
}

function rowOf(district: string, { item, variant, unit, use, cuts, purchase }: TakeoffLine): TakeoffRow {
  const head = { district, material: item, variant, unit, use };
  if (cuts !== null) {
    const longer = cuts.orderedToLength.length;
    const what = `${cuts.rolls === 1 ? "roll" : "rolls"}${longer === 0 ? "" : ` + ${longer} to length`}`;
    return {
      ...head,
      bought: { what, count: cuts.rolls },
      left: cuts.usableLeft.reduce((sum, left) => sum + left, 0),
      scrap: cuts.scrap,
      fewest: cuts.boundByMartelloToth,
    };
  }
  const none = { scrap: null, fewest: null };
  if (purchase === null) return { ...head, bought: null, left: null, ...none };
  const { what, count, left } = purchase;
  const plural = what === "box" ? "boxes" : `${what}s`;
  return { ...head, bought: { what: count === 1 ? what : plural, count }, left, ...none };
}

const resinRows = (district: string, { resin, components, inKits }: DistrictBatches): readonly TakeoffRow[] =>
  components.map(({ component, grams, containers, leftoverGrams }) => ({
    district,
    material: "resin",
    variant: component === "resin" ? resin : `${resin}, ${component}`,
    unit: "g",
    use: grams,
    bought: { what: inKits ? "kits" : "containers", count: containers },
    left: leftoverGrams,
    scrap: null,
    fewest: null,
  }));

/** What the program buys at once beside what the districts buy each for itself, for each material that is bought whole. */
export function roundings({ districts, program }: Takeoff): readonly {
  readonly row: TakeoffRow;
  readonly byDistricts: number;
}[] {
  const rows = districts.flatMap(takeoffRows);
  return takeoffRows(program).flatMap((row) => {
    if (row.bought === null) return [];
    const same = rows.filter(({ material, variant }) => material === row.material && variant === row.variant);
    return [
      { row, byDistricts: same.reduce((sum, { bought }) => sum + (bought as { count: number }).count, 0) },
    ];
  });
}

/** Said wherever both are shown. */
export const ROUNDING_NOTE =
  "Rolls and containers of the program are for one purchase; districts that buy for themselves round up each, so theirs add up to more. What is used adds up exactly.";
export const NO_LUBRICANT_NOTE =
  "Lubricant is not counted: no published amount. Hoses, plugs and tools that are not used up are not counted either.";
export const RESIN_NOTE =
  "A tube's cut has what the bends use up on their outside; its resin is that of the length without it: the excess has to cover it.";
