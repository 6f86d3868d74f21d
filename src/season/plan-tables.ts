import type { Column } from "../columns/column.ts";
import { type CrewKind, crewKinds, planColumns, treatmentKinds } from "../columns/plan-columns.ts";
import type { CrewVisit } from "../plan/crew-visit.ts";
import type { PlannedLateral } from "../plan/plan-lateral.ts";
import { hasOwnScores } from "../plan/recipe.ts";
import { surveyKeys } from "../plan/score-values.ts";
import { takeOffMaterials } from "../plan/takeoff.ts";
import { isNumeric } from "../quantity/measure.ts";
import { RowWriter } from "../sheet/row-writer.ts";
import {
  type ColumnData,
  missingNumbers,
  missingWords,
  numbersOf,
  type Table,
  unwrittenNumbers,
  withColumns,
  zeros,
} from "../sheet/table.ts";
import { withDecisions } from "./decided-columns.ts";
import type { FittedBasis } from "./fits.ts";
import { LateralList } from "./lateral-list.ts";
import { type LineOwners, LineSums } from "./line-sums.ts";
import {
  lineCells,
  linerCells,
  materialKeys,
  materialKeysOfTotals,
  missingWithoutLiner,
  secondCells,
  useCells,
  visitCells,
} from "./material-cells.ts";
import { type ListedOffer, offerCells, offerCellsOfTotals } from "./offer-cells.ts";
import { isRankRead, type PreparedBasis } from "./own-columns.ts";
import { cellsOfRanking, cellsOfTotals, planCells } from "./plan-cells.ts";
import type { PlannedSheet, Wanted } from "./plan-sheet.ts";
import type { ProgramTables } from "./program-tables.ts";

/** Tables with a row a lateral, of their full length from the start and in shared memory: each row is written by one thread only. */
export interface PlanTables {
  /** The plan's columns, without the city's. */
  readonly laterals: Table;
  readonly materials: Table;
  /** The chosen offers, a row a lateral; null where all are wanted, which are a list. */
  readonly chosen: Table | null;
}

/** A plan of which nothing is written. */
export const emptyTables = (rows: number, basis: FittedBasis, wanted: Wanted): PlanTables => ({
  laterals: { rows, columns: emptyPlan(rows, basis, wanted) },
  materials: materialTable(rows, basis, wanted),
  chosen: wanted === "everything" ? null : chosenTable(rows, basis),
});

/** The plan's columns, whose rows are each to be written whole; of the leading survey's, those that a formula of the recipe reads over the sheet. */
export function emptyPlan(
  rows: number,
  basis: PreparedBasis,
  wanted: Wanted = "everything",
): Map<string, ColumnData> {
  const read = new Set([...basis.ownColumns, ...basis.filters].flatMap(({ reads }) => reads));
  const isScored = wanted === "ranked totals" || isRankRead(basis) || hasOwnScores(basis.scores);
  const isKept = (key: string) =>
    wanted === "everything" ||
    cellsOfTotals.has(key) ||
    read.has(key) ||
    (isScored && cellsOfRanking.has(key));
  const columns = new Map<string, ColumnData>();
  // What no lateral fills by itself is missing until it is put there whole (rank, season): one column stands for all of these.
  let nobodys: ColumnData | null = null;
  for (const { key, measure, words } of planColumns as readonly Column[]) {
    if (!isKept(key)) continue;
    if (!isNumeric(measure)) columns.set(key, missingWords(rows, words ?? []));
    else if (key in planCells) columns.set(key, unwrittenNumbers(rows));
    else {
      nobodys ??= missingNumbers(rows);
      columns.set(key, nobodys);
    }
  }
  for (const key of surveyKeys) if (read.has(key)) columns.set(key, unwrittenNumbers(rows));
  return columns;
}

function materialTable(rows: number, { liners }: FittedBasis, wanted: Wanted): Table {
  const resins = new Set(Object.values(liners).flatMap((liner) => liner?.resin.key ?? []));
  const columnOf = (key: string): ColumnData => {
    if (key === "resin") return missingWords(rows, [...resins]);
    return missingWithoutLiner.has(key) ? unwrittenNumbers(rows) : zeros(rows);
  };
  const keys = wanted === "everything" ? materialKeys : materialKeysOfTotals;
  return { rows, columns: new Map(keys.map((key) => [key, columnOf(key)])) };
}

function chosenTable(rows: number, basis: FittedBasis): Table {
  const keys = Object.keys(offerCells(basis)).filter((key) => offerCellsOfTotals.has(key));
  return { rows, columns: new Map(keys.map((key) => [key, unwrittenNumbers(rows)])) };
}

/**
 * The tables with any number of rows a lateral, while they grow.
 *
 * @param summed of a plan for totals, whose lines are summed, and which has neither a list of offers nor the takeoff; null for one of everything
 */
export const emptyLists = (basis: FittedBasis, summed: LineOwners | null) => ({
  offers: summed === null ? new LateralList(offerCells(basis), { treatment: treatmentKinds }) : null,
  lines: summed === null ? new LateralList(lineCells, { line: [] }) : new LineSums(summed),
  seconds: new LateralList(secondCells, { resin: [] }),
  uses: summed === null ? new LateralList(useCells, { use: [] }) : null,
});
export type Lists = ReturnType<typeof emptyLists>;

export interface PlannedLists {
  readonly offers: Table | null;
  readonly lines: Table;
  readonly seconds: Table;
  readonly uses: Table | null;
}

export const finishLists = ({ offers, lines, seconds, uses }: Lists): PlannedLists => ({
  offers: offers?.finish() ?? null,
  lines: lines.finish(),
  seconds: seconds.finish(),
  uses: uses?.finish() ?? null,
});

/** Writes planned laterals into a plan's tables, and at the end of its lists. */
export class PlanWriter {
  readonly #laterals: RowWriter<PlannedLateral>;
  readonly #liner: RowWriter<PlannedLateral["chosen"]["pieces"][number]>;
  readonly #noLiner: readonly Float64Array[];
  readonly #visits: Readonly<Record<CrewKind, RowWriter<CrewVisit>>>;
  readonly #chosen: RowWriter<ListedOffer> | null;
  readonly #basis: FittedBasis;

  constructor({ laterals, materials, chosen }: PlanTables, basis: FittedBasis) {
    this.#laterals = rowOfPlan(laterals.columns);
    this.#liner = new RowWriter(materials.columns, linerCells);
    this.#noLiner = [...missingWithoutLiner].map((key) => numbersOf(materials, key));
    this.#visits = Object.fromEntries(
      crewKinds.map((crew) => [crew, new RowWriter(materials.columns, visitCells(crew))]),
    ) as Record<CrewKind, RowWriter<CrewVisit>>;
    this.#chosen = chosen === null ? null : new RowWriter(chosen.columns, offerCells(basis));
    this.#basis = basis;
  }

  write(row: number, planned: PlannedLateral, { offers, lines, seconds, uses }: Lists): void {
    const { chosen, lateral } = planned;
    this.#laterals.write(row, planned);
    const { pieces, crewTime } = chosen;
    if (pieces.length > 0) this.#liner.write(row, pieces[0]!);
    else for (const column of this.#noLiner) column[row] = Number.NaN;
    for (const visit of crewTime.visits) this.#visits[visit.crew].write(row, visit);
    this.#chosen?.write(row, { offer: chosen, isChosen: true });
    if (offers !== null)
      for (const offer of planned.offers) offers.push(row, { offer, isChosen: offer === chosen });
    for (const line of chosen.cost.lines) lines.push(row, line);
    for (let second = 1; second < pieces.length; second++) seconds.push(row, pieces[second]!);
    if (uses !== null) for (const use of takeOffMaterials(chosen, lateral, this.#basis)) uses.push(row, use);
  }
}

/** Writes what the plan's columns of the sheet hold of planned laterals. */
export const rowOfPlan = (columns: ReadonlyMap<string, ColumnData>): RowWriter<PlannedLateral> =>
  new RowWriter(columns, planCells);

/** The city's columns, decisions in place, with the plan's beside them. */
export const sheetLaterals = (
  { laterals, decisions }: Pick<ProgramTables, "laterals" | "decisions">,
  planned: PlanTables,
): Table => withColumns(withDecisions(laterals, decisions), planned.laterals.columns);

/** The sheet of what was planned. */
export function sheetOf(
  city: Pick<ProgramTables, "laterals" | "decisions">,
  tables: PlanTables,
  { offers, lines, seconds, uses }: PlannedLists,
): PlannedSheet {
  const listed = offers ?? tables.chosen;
  if (listed === null) throw new RangeError("sheetOf: a plan without offers");
  return {
    laterals: sheetLaterals(city, tables),
    offers: listed,
    lines,
    materials: tables.materials,
    seconds,
    uses: uses ?? NOT_TAKEN,
  };
}

/** No column, so that whoever asks for one is told. */
const NOT_TAKEN: Table = { rows: 0, columns: new Map() };
