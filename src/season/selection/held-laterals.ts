import { crewKinds } from "../../columns/plan-columns.ts";
import { numberAt } from "../../sheet/table.ts";
import { mannedSets } from "../manned-sets.ts";
import type { PlannedProgram } from "../planned-program.ts";
import { heldRows } from "../tracking.ts";
import { visitKeys } from "../visit-keys.ts";
import type { HeldLateral } from "./hold-fixed.ts";

/**
 * Whole minutes of the shift that a visit takes at the least: a crew with people for several inflation sets works at as many laterals at once
 * (see paceOf), never at more.
 */
export const leastMinutes = (whole: number, sets: number): number => Math.floor(whole / sets);

/** What a season may not choose about any more: done at its cost and its crews' planned visits, refused at what was spent. */
export function heldLaterals(program: PlannedProgram): {
  readonly held: readonly HeldLateral[];
  /** Done laterals of which neither an installed cost nor a price is known: they count as nothing spent, and that is to be said. */
  readonly withoutCost: number;
} {
  const rows = heldRows(program);
  return {
    held: rows.map(({ row, standing, cost }) => ({
      lateral: row,
      standing,
      spent: cost === null ? 0 : cost,
      minutes: crewKinds.map((crew) =>
        standing === "done"
          ? leastMinutes(
              numberAt(program.materials, visitKeys(crew).whole, row),
              mannedSets(crew, program.basis.steps),
            )
          : 0,
      ),
    })),
    withoutCost: rows.filter(({ standing, cost }) => standing === "done" && cost === null).length,
  };
}
