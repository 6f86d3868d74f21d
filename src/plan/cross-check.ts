import { groundwaterHeads, hydrostaticPressure } from "../engineering/groundwater.ts";
import { freeRing, type LinerMaterial, type WallCriteria } from "../engineering/liner-wall.ts";
import { impliedByGlock, type SecondOpinion, takeSecondOpinion } from "../engineering/second-opinion.ts";
import type { Kilopascals, Metres, Millimetres } from "../quantity/si.ts";

/** Glock's close-fit buckling beside the appendix's: an unpublished-check cross-check, never the design. */
export interface CrossCheck extends SecondOpinion {
  /** P under the greatest head over the invert along the run. */
  readonly pressure: Kilopascals;
  /** DR of the wall ordered, and the enhancement factor Glock implies there. */
  readonly orderedRatio: number;
  readonly impliedAtOrdered: number;
  /** K in use exceeds what Glock implies, at the wall X1.1 asks for or at the wall ordered. */
  readonly caution: boolean;
  /** Glock asks for more than the wall ordered. */
  readonly exceedsOrdered: boolean;
}

/** Null without outside water: there is nothing to compare. */
export function crossCheckWall(
  host: {
    readonly diameter: Millimetres;
    readonly deepestCover: Metres;
    readonly waterTableDepth: Metres;
    readonly reduction: number;
  },
  ordered: Millimetres,
  material: LinerMaterial,
  criteria: WallCriteria,
): CrossCheck | null {
  const water = { kind: "table", depthBelowSurface: host.waterTableDepth } as const;
  const pressure = hydrostaticPressure(groundwaterHeads(water, host.deepestCover, host.diameter).overInvert);
  const opinion = takeSecondOpinion(host.diameter, pressure, freeRing(host.reduction, material, criteria));
  if (opinion === null) return null;
  const orderedRatio = host.diameter / ordered;
  const impliedAtOrdered = impliedByGlock(orderedRatio);
  return {
    ...opinion,
    pressure,
    orderedRatio,
    impliedAtOrdered,
    caution: opinion.isEnhancementUnsafe || criteria.enhancement > impliedAtOrdered,
    exceedsOrdered: opinion.glockWall > ordered,
  };
}
