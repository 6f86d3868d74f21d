import { type CrewKind, crewKinds } from "../../columns/plan-columns.ts";
import { rowOfEach } from "../../sheet/row-of-each.ts";
import { numberAt } from "../../sheet/table.ts";
import { spendingAsCounted } from "../budget-counts.ts";
import { mannedSets } from "../manned-sets.ts";
import type { PlannedProgram } from "../planned-program.ts";
import { hasOpened, heldRows, isVisitOver, standingAt } from "../tracking.ts";
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
  /** Under way; where nobody entered what was spent, that is 0, and the season's text says so. */
  readonly begun: readonly BegunLateral[];
  /** Done laterals of which neither an installed cost nor a price is known: they count as nothing spent, and that is to be said. */
  readonly withoutCost: number;
}

/** Work so far on a lateral as a saved season keeps it: its id, and the whole of the cents spent, whatever its budget counted of them. */
export interface SavedWork {
  readonly lateral: string;
  readonly standing: HeldLateral["standing"] | "begun";
  readonly spent: number;
  /** Of one that is begun: the kinds of crew whose visit was over. */
  readonly visited?: readonly CrewKind[] | undefined;
}

export const NOTHING_YET: WorkSoFar = { held: [], begun: [], withoutCost: 0 };

/** {@link workAsEntered} as the budget counts it. */
export const workSoFar = (program: PlannedProgram): WorkSoFar => asCounted(program, workAsEntered(program));

/**
 * What a season may not choose about: done at its cost and its crews' planned visits, refused and held back at what was spent; and what is begun. All
 * at the whole of what was spent.
 */
export function workAsEntered(program: PlannedProgram): WorkSoFar {
  const rows = heldRows(program);
  return {
    held: rows.map(({ row, standing, cost }) => heldAs(program, row, standing, cost ?? 0)),
    begun: begunLaterals(program),
    withoutCost: rows.filter(({ standing, cost }) => standing === "done" && cost === null).length,
  };
}

/**
 * The work so far when a saved season was selected, of laterals that the program still has, as the budget counts it now; what was recorded
 * since is not in it.
 */
export function workWhenSaved(program: PlannedProgram, saved: readonly SavedWork[]): WorkSoFar {
  const rowOf = rowOfEach(program.laterals, "lateral");
  const held: HeldLateral[] = [];
  const begun: BegunLateral[] = [];
  // Where a cross-bore has been found since, nobody is sent by a season of before either.
  const heldBack = new Set(
    heldRows(program).flatMap(({ row, standing }) => (standing === "held back" ? [row] : [])),
  );
  for (const { lateral: id, standing, spent, visited = [] } of saved) {
    const row = rowOf.get(id);
    if (row === undefined) continue;
    if (heldBack.delete(row)) held.push(heldAs(program, row, "held back", spent));
    else if (standing === "begun") begun.push(begunAs(program, row, spent, (crew) => visited.includes(crew)));
    else held.push(heldAs(program, row, standing, spent));
  }
  for (const row of heldBack) held.push(heldAs(program, row, "held back", 0));
  return asCounted(program, { held, begun, withoutCost: 0 });
}

function asCounted(program: PlannedProgram, { held, begun, withoutCost }: WorkSoFar): WorkSoFar {
  const countedOf = spendingAsCounted(program);
  const counted = <Work extends BegunLateral | HeldLateral>(work: Work): Work => ({
    ...work,
    spent: countedOf(work.lateral, work.spent),
  });
  return { held: held.map(counted), begun: begun.map(counted), withoutCost };
}

/** A done lateral has taken its crews' planned visits; a refused one counts with no time. */
const heldAs = (
  program: PlannedProgram,
  row: number,
  standing: HeldLateral["standing"],
  spent: number,
): HeldLateral => ({
  lateral: row,
  standing,
  spent,
  opened: hasOpened(standing, spent),
  minutes: crewKinds.map((crew) => (standing === "done" ? plannedMinutes(program, row, crew) : 0)),
});

const begunAs = (
  program: PlannedProgram,
  row: number,
  spent: number,
  isOver: (crew: CrewKind) => boolean,
): BegunLateral => ({
  lateral: row,
  spent,
  visited: crewKinds.map((crew) => (isOver(crew) ? plannedMinutes(program, row, crew) : null)),
});

const plannedMinutes = ({ materials, basis }: PlannedProgram, row: number, crew: CrewKind): number =>
  leastMinutes(numberAt(materials, visitKeys(crew).whole, row), mannedSets(crew, basis.steps));

function begunLaterals(program: PlannedProgram): readonly BegunLateral[] {
  const { laterals } = program;
  const begun: BegunLateral[] = [];
  for (let row = 0; row < laterals.rows; row++) {
    if (standingAt(laterals, row) !== "under way") continue;
    const entered = numberAt(laterals, "installed_cost", row);
    const isOver = (crew: CrewKind) => isVisitOver(laterals, row, crew);
    begun.push(begunAs(program, row, Number.isNaN(entered) ? 0 : entered, isOver));
  }
  return begun;
}
