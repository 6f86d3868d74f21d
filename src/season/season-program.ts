import type { DecidedValue, Decisions } from "../columns/decided.ts";
import { seasonKeys } from "../columns/plan-columns.ts";
import { selectedForSeason } from "../plan/reason.ts";
import { fileProblem, type Problem } from "../quantity/problem.ts";
import type { Cents } from "../quantity/si.ts";
import { cents } from "../quantity/si.ts";
import { rowOfEach } from "../sheet/row-of-each.ts";
import { numberAt, textAt, withColumns } from "../sheet/table.ts";
import { batchByDistrict } from "./batches.ts";
import { applyFilters, fillOwnColumns } from "./own-columns.ts";
import { planSheet } from "./plan-sheet.ts";
import type { PlannedProgram } from "./planned-program.ts";
import { selectRows } from "./select-rows.ts";
import type { SavedWork } from "./selection/held-laterals.ts";
import { totalByDistrict } from "./totals.ts";
import { heldBackIn, standingAt } from "./tracking.ts";

/** A lateral a season takes, by which treatment, at the cost it had when the season was selected. */
export interface ChosenLateral {
  readonly lateral: string;
  readonly treatment: string;
  readonly cost: number;
}

/** A lateral whose work costs otherwise than when the season was selected; null is not priced any more. */
export interface MovedCost {
  readonly lateral: string;
  readonly was: Cents;
  readonly now: Cents | null;
}

export interface SeasonProgram {
  /** The season's laterals alone, each with the treatment the season gives it; ranks are those of the whole program. */
  readonly program: PlannedProgram;
  readonly moved: readonly MovedCost[];
  /** Laterals of the season that cannot be in its plan, each with why. */
  readonly problems: readonly Problem[];
}

/**
 * The plan of a season: its laterals planned again with the treatments it gives them, under the fits to the whole city. What the
 * program no longer has or allows, and where a cross-bore has been found since, is left out and is a problem.
 *
 * @param name of the season, which stands in the name of the program and in the reason of each choice
 * @param soFar where the work stood when it was selected
 */
export function programOfSeason(
  whole: PlannedProgram,
  name: string,
  chosen: readonly ChosenLateral[],
  soFar: readonly SavedWork[] = [],
): SeasonProgram {
  const file = `runs/${name}.json`;
  const { laterals } = whole;
  const rowOf = rowOfEach(laterals, "lateral");
  const problems: Problem[] = [];
  const kept = new Uint8Array(laterals.rows);
  for (const { lateral, treatment } of chosen) {
    const row = rowOf.get(lateral);
    if (row === undefined) problems.push(strangerIn(file, lateral));
    else if (standingAt(laterals, row) === "held back") problems.push(notSafe(file, lateral));
    else if (!isOffered(whole, row, treatment)) problems.push(notAllowed(file, lateral, treatment));
    else kept[row] = 1;
  }
  const part = selectRows(whole, kept);
  const wanted = new Map(chosen.map((each) => [each.lateral, each]));
  const program = planAs(
    part,
    withTreatments(part, wanted, selectedForSeason(name)),
    `${whole.basis.program.name}, season ${name}`,
  );
  return {
    program: {
      ...program,
      ofSeason: name,
      heldBack: heldBackIn(whole),
      overWhenSaved: new Map(soFar.map(({ lateral, visited = [] }) => [lateral, visited])),
      problems: [...program.problems, ...problems],
    },
    moved: movedCosts(program, wanted),
    problems,
  };
}

/** The rows planned again under other decisions, the fits and the ranks as they are. */
function planAs(part: PlannedProgram, decisions: Decisions, name: string): PlannedProgram {
  const tables = { ...part.tables, decisions };
  const basis = { ...part.basis, program: { ...part.basis.program, name } };
  const sheet = planSheet(tables, basis);
  // What the whole batch gives a row: its place among all, and how sure it is.
  const ofTheBatch = ["rank", "stays_selected", ...seasonKeys].flatMap((key) => {
    const column = part.laterals.columns.get(key);
    return column === undefined ? [] : [[key, column] as const];
  });
  const laterals = fillOwnColumns(withColumns(sheet.laterals, ofTheBatch), basis.ownColumns);
  const ranked = { ...sheet, laterals };
  return {
    ...part,
    ...ranked,
    tables,
    basis,
    filters: applyFilters(laterals, basis.filters),
    totals: totalByDistrict(ranked, basis),
    batches: batchByDistrict(ranked, basis),
  };
}

/** Decisions with the season's treatments over them; one that says the same already stays, with its own reason. */
function withTreatments(
  { tables: { decisions }, laterals }: PlannedProgram,
  wanted: ReadonlyMap<string, ChosenLateral>,
  reason: string,
): Decisions {
  const changed = new Map<string, ReadonlyMap<string, DecidedValue>>(decisions);
  for (let row = 0; row < laterals.rows; row++) {
    const id = textAt(laterals, "lateral", row);
    const value = wanted.get(id)?.treatment;
    if (value === undefined) throw new RangeError(`withTreatments: ${id} is not of the season`);
    const standing = decisions.get(id);
    if (standing?.get("treatment")?.value !== value)
      changed.set(id, new Map([...(standing ?? []), ["treatment", { value, reason }]]));
  }
  return changed;
}

function movedCosts(
  { laterals }: PlannedProgram,
  wanted: ReadonlyMap<string, ChosenLateral>,
): readonly MovedCost[] {
  return Array.from({ length: laterals.rows }, (_, row) => row).flatMap((row) => {
    const lateral = textAt(laterals, "lateral", row);
    const was = wanted.get(lateral)!.cost;
    const now = numberAt(laterals, "cost", row);
    if (now === was) return [];
    return [{ lateral, was: cents(was), now: Number.isNaN(now) ? null : cents(now) }];
  });
}

/** Offers are in the order of their laterals. */
function isOffered({ offers }: PlannedProgram, row: number, treatment: string): boolean {
  for (let at = firstOfferOf(offers, row); at < offers.rows; at++) {
    if (numberAt(offers, "lateral_row", at) !== row) return false;
    if (textAt(offers, "treatment", at) === treatment) return true;
  }
  return false;
}

function firstOfferOf(offers: PlannedProgram["offers"], row: number): number {
  let low = 0;
  let high = offers.rows;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (numberAt(offers, "lateral_row", middle) < row) low = middle + 1;
    else high = middle;
  }
  return low;
}

const strangerIn = (file: string, lateral: string): Problem =>
  fileProblem(
    file,
    lateral,
    "the id of a lateral of the city's file",
    "It is left out of the season's plan: put it back in the file, or select the season again.",
  );

const notSafe = (file: string, lateral: string): Problem =>
  fileProblem(
    file,
    lateral,
    "a lateral without a cross-bore, or with one that is made safe",
    `A cross-bore was found in ${lateral}: nobody is sent there, and it is left out of the season's plan. When it is made safe: wyeplan decide FOLDER ${lateral} cross_bore "made safe".`,
  );

const notAllowed = (file: string, lateral: string, treatment: string): Problem =>
  fileProblem(
    file,
    treatment,
    `a treatment that lateral ${lateral} may still have`,
    `It is left out of the season's plan: see wyeplan why for ${lateral}, or select the season again.`,
  );
