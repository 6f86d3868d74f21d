import type { Surface } from "../columns/lateral-columns.ts";
import type { Basis } from "../reference/basis.ts";
import type { WorkKind } from "../reference/works.ts";
import type { Lateral } from "./lateral.ts";
import { orAssumed } from "./stated.ts";

/** Surface restored after digging, m². */
export interface RestoredSurface {
  readonly surface: Surface;
  readonly area: number;
}

/**
 * What a work digs up and restores, by surface: a trench as long as the lateral under the lateral's surface, or the pits of
 * pipe bursting under the surfaces the table names. Pits under one surface are one area.
 */
export function restoredSurfaces(
  work: WorkKind,
  { id, hostLength, surface }: Pick<Lateral, "id" | "hostLength" | "surface">,
  { treatments, assumptions }: Pick<Basis, "treatments" | "assumptions">,
): readonly RestoredSurface[] {
  switch (work) {
    case "open-cut replacement":
      if (hostLength === null) throw new RangeError(`restoredSurfaces: ${id} has a trench of unknown length`);
      return [
        {
          surface: orAssumed(surface, assumptions.surface).value,
          area: hostLength.value * treatments.openCut.trenchWidth,
        },
      ];
    case "pipe bursting": {
      const areas = new Map<Surface, number>();
      for (const pit of treatments.bursting.pits)
        areas.set(pit.surface, (areas.get(pit.surface) ?? 0) + pit.area);
      return Array.from(areas, ([surface, area]) => ({ surface, area }));
    }
    default:
      return [];
  }
}
