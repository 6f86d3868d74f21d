import type { Column } from "../columns/column.ts";
import { sheetColumns } from "../columns/dictionary.ts";
import type { CrewKind } from "../columns/plan-columns.ts";
import { hasOwnScores } from "../plan/recipe.ts";
import type { Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { numbersOf, type Table, withColumns } from "../sheet/table.ts";
import { batchByDistrict, type DistrictBatches } from "./batches.ts";
import { type FittedBasis, fitProgram } from "./fits.ts";
import { applyFilters, type FilteredRows, fillOwnColumns, type PreparedBasis } from "./own-columns.ts";
import { cellsOfRanking } from "./plan-cells.ts";
import { type PlannedSheet, type Progress, planSheet } from "./plan-sheet.ts";
import type { ProgramTables } from "./program-tables.ts";
import { type Ranking, rankLaterals } from "./rank.ts";
import { type ProgramTotals, totalByDistrict } from "./totals.ts";
import type { VisitDates } from "./visit-dates.ts";

/** How the rows of one file are accounted for: read = kept + duplicates + rejected. */
export interface RowTally {
  readonly file: string;
  readonly read: number;
  readonly kept: number;
  readonly duplicates: number;
  readonly rejected: number;
}

/** Which saved season the columns of a program are of, or why they are empty. */
export interface SeasonPlace {
  /** "" where none is saved. */
  readonly name: string;
  readonly isFilled: boolean;
  /** One line for people. */
  readonly said: string;
  /** The visits of the season, of what is done and refused too; none without a calendar, or where the columns are empty. */
  readonly dates: VisitDates;
}

/** A program, planned: what every output is made from. */
export interface PlannedProgram extends PlannedSheet {
  readonly tables: ProgramTables;
  /** With the fits to the whole city, made before the plan. */
  readonly basis: FittedBasis;
  /** Every column of the sheet: the dictionary's, the program's own, then the city's that the program does not know. */
  readonly columns: readonly Column[];
  /** The recipe's named filters, with the rows they keep. */
  readonly filters: readonly FilteredRows[];
  /** Rows of the lateral table by rank, worst risk first. @throws RangeError of totals that nobody wanted ranked */
  readonly order: Uint32Array;
  readonly totals: ProgramTotals;
  /** Resin to buy and mix, by district. */
  readonly batches: readonly DistrictBatches[];
  readonly problems: readonly Problem[];
  readonly tallies: readonly RowTally[];
  /** The saved season whose laterals alone these are; undefined for the whole program. */
  readonly ofSeason?: string;
  /** Of a season: ids of the laterals of the whole program that are held back (see standingAt), none of which it takes. */
  readonly heldBack?: readonly string[];
  /** Of a saved season: visits that were over when it was selected, by lateral. It never gave them days. */
  readonly overWhenSaved?: ReadonlyMap<string, readonly CrewKind[]>;
  /** Which saved season the columns of the season are of; undefined where nobody has looked. */
  readonly season?: SeasonPlace;
}

/** Fits the city, then plans, ranks and totals the whole batch. */
export function planProgram(
  tables: ProgramTables,
  given: PreparedBasis,
  found: Pick<PlannedProgram, "problems" | "tallies">,
  progress?: Progress,
): PlannedProgram {
  const basis = fitProgram(tables, given);
  return finishProgram(tables, basis, planSheet(tables, basis, progress), found);
}

/**
 * Ranks and totals a planned sheet, as far as it is not done yet.
 *
 * @param ranking null where no formula reads the rank: then laterals are put in order when somebody asks for it, and the sheet has no ranks
 */
export function finishProgram(
  tables: ProgramTables,
  basis: FittedBasis,
  sheet: PlannedSheet,
  found: Pick<PlannedProgram, "problems" | "tallies">,
  ranking: Ranking | null = rankLaterals(sheet.laterals),
  totalled = totalSheet(sheet, basis),
): PlannedProgram {
  const { laterals } = sheet;
  const filled =
    ranking === null
      ? fillSheet(basis, laterals, found.problems)
      : rankSheet(basis, laterals, found.problems, ranking);
  let ranks = ranking;
  return {
    ...sheet,
    tables,
    basis,
    ...filled,
    ...totalled,
    tallies: found.tallies,
    get order() {
      if (ranks === null && ![...cellsOfRanking].every((key) => laterals.columns.has(key)))
        throw new RangeError(
          'PlannedProgram: totals that nobody ranks have no order; ask for "ranked totals"',
        );
      ranks ??= rankLaterals(laterals);
      return ranks.order;
    },
  };
}

/** What a planned sheet comes to, ranked or not. */
export const totalSheet = (
  sheet: PlannedSheet,
  basis: FittedBasis,
): Pick<PlannedProgram, "totals" | "batches"> => ({
  totals: totalByDistrict(sheet, basis),
  batches: batchByDistrict(sheet, basis),
});

/** What follows from the scores of a planned sheet: the ranking, and what the recipe adds. */
export function rankSheet(
  basis: FittedBasis,
  planned: Table,
  problems: readonly Problem[],
  { order, rank }: Ranking = rankLaterals(planned),
): Pick<PlannedProgram, "laterals" | "columns" | "filters" | "order" | "problems"> {
  return { ...fillSheet(basis, withColumns(planned, [["rank", rank]]), problems), order };
}

/** What the recipe adds to a planned sheet. */
function fillSheet(
  basis: FittedBasis,
  planned: Table,
  problems: readonly Problem[],
): Pick<PlannedProgram, "laterals" | "columns" | "filters" | "problems"> {
  const laterals = fillOwnColumns(planned, basis.ownColumns);
  return {
    laterals,
    columns: [...sheetColumns, ...basis.ownColumns.map(({ column }) => column), ...citysOthers(laterals)],
    filters: applyFilters(laterals, basis.filters),
    problems: [...problems, ...withoutScore(laterals, basis)],
  };
}

const WITHOUT_SCORE = "lateral(s) without a score";

/** Whether a problem comes from the plan and not from the files: a new plan finds it again. */
export const isOfThePlan = ({ file, found }: Problem): boolean =>
  file === "program.json" && found.endsWith(WITHOUT_SCORE);

/** Laterals that the recipe gives no score: they rank last, and that is said. The tables of risk score every lateral. */
function withoutScore(laterals: Table, { scores }: PreparedBasis): readonly Problem[] {
  if (!hasOwnScores(scores)) return [];
  let count = 0;
  for (const risk of numbersOf(laterals, "risk")) if (Number.isNaN(risk)) count++;
  if (count === 0) return [];
  const written = (["score", "likelihood", "consequence"] as const).filter((key) => scores[key] !== null);
  return [
    {
      severity: "noted",
      file: "program.json",
      row: null,
      column: `recipe.${written[0]!}`,
      found: `${showCount(count)} ${WITHOUT_SCORE}`,
      expected: "a score for every lateral",
      remedy: "They rank last. Say what a missing value counts as: if_missing(backups, 0), for example.",
    },
  ];
}

/** Columns of the city's file that the dictionary does not have: shown as they are, used for nothing. */
const citysOthers = (laterals: Table): readonly Column[] =>
  [...laterals.columns.keys()].flatMap((key): Column[] =>
    key.startsWith(OTHER)
      ? [
          {
            key,
            heading: key.slice(OTHER.length),
            measure: "text",
            stage: "given",
            help: "As the city's file has it; the plan does not use it.",
            shownAtFirst: true,
          },
        ]
      : [],
  );

/** How intake names the columns it keeps and does not know. */
const OTHER = "other:";
