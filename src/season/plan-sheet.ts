import type { PlannedLateral } from "../plan/plan-lateral.ts";
import { pickRows, type Table } from "../sheet/table.ts";
import type { FittedBasis } from "./fits.ts";
import { joinBlocks, planBlocks, sharePlan } from "./plan-blocks.ts";
import { emptyLists, emptyTables, finishLists, PlanWriter, sheetOf } from "./plan-tables.ts";
import type { ProgramTables } from "./program-tables.ts";

/** The plan of the whole batch, before ranking. */
export interface PlannedSheet {
  /** The city's columns with the plan's beside them. */
  readonly laterals: Table;
  /**
   * A row a lateral × eligible treatment: `lateral_row`, `treatment`, `cost`, `crew_minutes`, `resin_ml`, `chosen`; `present_worth` of the
   * work and its renewals, cents; `remaining_loss`, cents of today, when it is kept up so; `loss_avoided`, cents of today, by doing it once;
   * `infiltration_removed`, L/s in the season of high groundwater; `life_years`. Missing is NaN. Minutes of each kind of crew's visit
   * (visitMinutesKey), and of crews with several sets the minutes they are needed. Where the season's budget pays the city's share: `city_cost`.
   * Of a plan for totals it has the chosen offers alone, a row a lateral.
   */
  readonly offers: Table;
  /**
   * A row a bid line of a chosen treatment: `lateral_row`, `line` (see bidLineKey), `hundredths`, `extension` in cents. Of a plan for totals these
   * are sums ({@link LineSums}): `lateral_row` is the first lateral of them.
   */
  readonly lines: Table;
  /**
   * A row a lateral, for the takeoff: `nominal_diameter` mm, `liners` (pieces placed), `resin_ml`, `resin` (its key), `resin_g`, `base_g`, `hardener_g`,
   * `over_pot_life`, `end_seals`; and for each kind of crew ({@link visitKeys}) its visit: minutes from
   * set-up to closed access, minutes the crew is needed, minutes occupants are without water;
   * all 0 where it does not come.
   */
  readonly materials: Table;
  /** A row a second liner of a combination: `lateral_row`, and of it what `materials` holds of the first, with its `wall` in mm. */
  readonly seconds: Table;
  /** A row a material used at a lateral, and a row a piece of tube: `lateral_row`, `use` (see takeoffKey), `amount`. */
  readonly uses: Table;
}

/** Told how far the loop is, now and then. */
export type Progress = (done: number, total: number) => void;

/**
 * What of the plan is wanted: `everything`, for whoever shows it, chooses among offers or dates visits; or the `totals`: then the tables hold
 * the columns that totals, batches, breakdown and the recipe's formulas read, of the chosen offers only and without the takeoff, and
 * whoever asks for another column is told that there is none. Of 100,000 laterals that is 25 MB and not 79; on one thread planning them took
 * 2.0 processor seconds and not 2.8, the command 3.6 and not 4.3 (least of four and of five runs, taken in turn). Of `ranked totals` they hold
 * what the ranking reads too; else the risk is scored only where a formula of the recipe scores it or reads it.
 */
export type Wanted = "everything" | "ranked totals" | "totals";

/** Plans every lateral and keeps the numbers and codes; the full record of one lateral is worked out again when asked for. */
export function planSheet(
  tables: ProgramTables,
  basis: FittedBasis,
  progress?: Progress,
  wanted: Wanted = "everything",
): PlannedSheet {
  const plan = sharePlan(tables.laterals.rows, basis, wanted);
  return joinBlocks(tables, { plan, blocks: planBlocks(tables, basis, plan, progress) });
}

/** The sheet of one lateral alone, in row 0: what it adds to every total. */
export function sheetOfOne(
  { laterals, decisions }: ProgramTables,
  row: number,
  planned: PlannedLateral,
  basis: FittedBasis,
): PlannedSheet {
  const tables = emptyTables(1, basis, "everything");
  const lists = emptyLists(basis, null);
  new PlanWriter(tables, basis).write(0, planned, lists);
  const alone = { laterals: pickRows(laterals, Uint32Array.of(row)), decisions };
  return sheetOf(alone, tables, finishLists(lists));
}
