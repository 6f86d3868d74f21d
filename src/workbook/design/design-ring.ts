import { hasPartInMain } from "../../plan/part-in-main.ts";
import type { PlannedLateral } from "../../plan/plan-lateral.ts";
import type { DesignedWall } from "../../plan/wall.ts";
import type { WetOut } from "../../plan/wet-out.ts";
import { type Basis, type ChosenLiner, chosenFor } from "../../reference/basis.ts";
import { isInMain, type PlannedUse } from "../../reference/liner-systems.ts";

/** A ring whose wall was designed: the liner that a lateral gets or, of one with a part in the main, that part too. */
export interface DesignRing {
  /** What a reader picks it by: the lateral's id, or that with its part. No two rings have the same. */
  readonly pick: string;
  /** Each part has its own list of stocked walls. */
  readonly part: RingPart;
  readonly wall: DesignedWall;
  /** Null for the part in the main: its resin is counted with the lateral's. */
  readonly resin: RingResin | null;
  readonly basis: Basis;
}

export interface RingResin {
  readonly wetOut: WetOut;
  readonly chosen: ChosenLiner;
  /** In metres. */
  readonly cutLength: number;
  /** Of a liner with a part in the main, whose wall is not a plain tube, in litres; null for others. */
  readonly wallVolume: number | null;
  /** Kilograms a metre by the shop's chart, where it says. */
  readonly chart: number | null;
}

export const ringParts = [
  "full-length liner",
  "sectional liner",
  "connection liner, in the lateral",
  "connection liner, in the main",
  "one-piece liner, in the lateral",
  "one-piece liner, in the main",
] as const;
export type RingPart = (typeof ringParts)[number];

const partInLateral = {
  "full-length": "full-length liner",
  section: "sectional liner",
  connection: "connection liner, in the lateral",
  "one-piece": "one-piece liner, in the lateral",
} as const satisfies Record<PlannedUse, RingPart>;

const partInMain = {
  connection: "connection liner, in the main",
  "one-piece": "one-piece liner, in the main",
} as const satisfies Partial<Record<PlannedUse, RingPart>>;

/** The walls in which a part is stocked. */
export function stockedWalls(part: RingPart, { liners }: Basis): readonly number[] {
  switch (part) {
    case "full-length liner":
      return liners["full-length"].system.stockedWalls;
    case "sectional liner":
      return liners.section.system.stockedWalls;
    case "connection liner, in the lateral":
      return liners.connection.system.stockedWalls;
    case "connection liner, in the main":
      return liners.connection.system.main?.stockedWalls ?? [];
    case "one-piece liner, in the lateral":
      return liners["one-piece"]?.system.stockedWalls ?? [];
    case "one-piece liner, in the main":
      return liners["one-piece"]?.system.main?.stockedWalls ?? [];
    default:
      return part satisfies never;
  }
}

/** The rings of the treatment chosen for a lateral; none where it is not lined. */
export function ringsOf(record: PlannedLateral, basis: Basis): readonly DesignRing[] {
  const { lateral, chosen, walls } = record;
  const { placed, liner, wetOut } = chosen;
  if (placed === null || liner === null || wetOut === null) return [];
  const { wall, use } = placed;
  const inLateral: DesignRing = {
    pick: lateral.id,
    part: partInLateral[use],
    wall,
    resin: {
      wetOut,
      chosen: chosenFor(basis.liners, use),
      cutLength: liner.cutLength,
      wallVolume: hasPartInMain(liner) ? wetOut.wall : null,
      chart: wetOut.by === "shop chart" ? chartOf(liner, basis) : null,
    },
    basis,
  };
  if (!isInMain(use)) return [inLateral];
  const both = walls[use];
  if (both.kind !== "designed") return [inLateral];
  return [
    inLateral,
    {
      pick: `${lateral.id}${IN_THE_MAIN}`,
      part: partInMain[use],
      wall: both.mainPart,
      resin: null,
      basis,
    },
  ];
}

const IN_THE_MAIN = " (in the main)";

function chartOf(liner: NonNullable<PlannedLateral["chosen"]["liner"]>, { shopChart }: Basis): number {
  const row = shopChart?.rows.find(
    ({ diameter, wall }) => diameter === liner.nominalDiameter && wall === liner.wall,
  );
  if (row === undefined) throw new RangeError(`chartOf: no row for a liner of ${liner.nominalDiameter} mm`);
  return row.kilogramsPerMetre;
}
