import type { PlanBasis } from "../plan/plan-basis.ts";
import type { Problem } from "../quantity/problem.ts";
import type { Basis } from "../reference/basis.ts";
import { withColumns } from "../sheet/table.ts";
import { batchByDistrict, type DistrictBatches } from "./batches.ts";
import { fitProgram } from "./fits.ts";
import { type PlannedSheet, type Progress, planSheet } from "./plan-sheet.ts";
import type { ProgramTables } from "./program-tables.ts";
import { rankLaterals } from "./rank.ts";
import { type ProgramTotals, totalByDistrict } from "./totals.ts";

/** How the rows of one file are accounted for: read = kept + duplicates + rejected. */
export interface RowTally {
  readonly file: string;
  readonly read: number;
  readonly kept: number;
  readonly duplicates: number;
  readonly rejected: number;
}

/** A program, planned: what every output is made from. */
export interface PlannedProgram extends PlannedSheet {
  readonly tables: ProgramTables;
  /** With the fits to the whole city, made before the plan. */
  readonly basis: PlanBasis;
  /** Rows of the lateral table by rank, worst risk first. */
  readonly order: Uint32Array;
  readonly totals: ProgramTotals;
  /** Resin to buy and mix, by district. */
  readonly batches: readonly DistrictBatches[];
  readonly problems: readonly Problem[];
  readonly tallies: readonly RowTally[];
}

/** Fits the city, then plans, ranks and totals the whole batch. */
export function planProgram(
  tables: ProgramTables,
  given: Basis,
  found: Pick<PlannedProgram, "problems" | "tallies">,
  progress?: Progress,
): PlannedProgram {
  const basis = fitProgram(tables, given);
  const sheet = planSheet(tables, basis, progress);
  const { order, rank } = rankLaterals(sheet.laterals);
  const ranked = { ...sheet, laterals: withColumns(sheet.laterals, [["rank", rank]]) };
  return {
    ...ranked,
    tables,
    basis,
    order,
    totals: totalByDistrict(ranked, basis),
    batches: batchByDistrict(ranked, basis),
    ...found,
  };
}
