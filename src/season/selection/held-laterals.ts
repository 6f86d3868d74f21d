import { crewKinds } from "../../columns/plan-columns.ts";
import { numberAt } from "../../sheet/table.ts";
import { mannedSets } from "../manned-sets.ts";
import type { PlannedProgram } from "../planned-program.ts";
import { heldRows, isOpen, standingAt } from "../tracking.ts";
import { visitKeys } from "../visit-keys.ts";
import type { BegunLateral, HeldLateral } from "./hold-fixed.ts";

/**
 * Whole minutes of the shift that a visit takes at the least: a crew with people for several inflation sets works at as many laterals at once
 * (see paceOf), never at more.
 */
export const leastMinutes = (whole: number, sets: number): number => Math.floor(whole / sets);

/** Where the work stands when a season is selected again. */
export interface WorkSoFar {
  readonly held: readonly HeldLateral[];
  /** Under way with money spent on them. */
  readonly begun: readonly BegunLateral[];
  /** Done laterals of which neither an installed cost nor a price is known: they count as nothing spent, and that is to be said. */
  readonly withoutCost: number;
}

export const NOTHING_YET: WorkSoFar = { held: [], begun: [], withoutCost: 0 };

/** What a season may not choose about any more: done at its cost and its crews' planned visits, refused at what was spent; and what is begun. */
export function workSoFar(program: PlannedProgram): WorkSoFar {
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
    begun: begunLaterals(program),
    withoutCost: rows.filter(({ standing, cost }) => standing === "done" && cost === null).length,
  };
}

function begunLaterals({ laterals }: PlannedProgram): readonly BegunLateral[] {
  const begun: BegunLateral[] = [];
  for (let row = 0; row < laterals.rows; row++) {
    const spent = numberAt(laterals, "installed_cost", row);
    if (spent > 0 && isOpen(standingAt(laterals, row))) begun.push({ lateral: row, spent });
  }
  return begun;
}
