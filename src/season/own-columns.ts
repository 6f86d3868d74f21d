import type { Column } from "../columns/column.ts";
import type { ReadValue, ScoringBasis } from "../plan/recipe.ts";
import type { ColumnData, NumberColumn, Table } from "../sheet/table.ts";

/** A formula over the planned sheet, in both its forms. Missing is NaN; yes and no are 1 and 0. */
export interface SheetFormula {
  readonly text: string;
  /** Keys of the columns it reads. */
  readonly reads: readonly string[];
  readonly evaluate: (read: ReadValue) => number;
  /** Rows `from` to `to` (not included), into the same rows of `out`. */
  readonly fill: (
    columns: ReadonlyMap<string, ColumnData>,
    out: Float64Array,
    from: number,
    to: number,
  ) => void;
}

/** A column that the program's settings define. */
export interface OwnColumn extends SheetFormula {
  readonly column: Column;
}

/** A named condition. */
export interface Filter extends SheetFormula {
  readonly name: string;
}

/** A basis whose recipe is compiled, whole. */
export interface PreparedBasis extends ScoringBasis {
  /** In an order in which each follows the columns it reads. */
  readonly ownColumns: readonly OwnColumn[];
  readonly filters: readonly Filter[];
}

/** Whether a formula of the recipe reads where a lateral stands. */
export const isRankRead = ({ ownColumns, filters }: PreparedBasis): boolean =>
  [...ownColumns, ...filters].some(({ reads }) => reads.includes("rank"));

/** A named filter and the rows it keeps. */
export interface FilteredRows {
  readonly name: string;
  readonly text: string;
  /** 1 where the answer is a known yes. */
  readonly met: Uint8Array;
  readonly count: number;
}

/** The columns of the recipe beside those of the sheet, each filled from the ones before it. */
export function fillOwnColumns(laterals: Table, own: readonly OwnColumn[]): Table {
  if (own.length === 0) return laterals;
  const columns = new Map(laterals.columns);
  for (const { column, fill } of own) {
    const values = new Float64Array(new SharedArrayBuffer(laterals.rows * 8));
    fill(columns, values, 0, laterals.rows);
    for (let row = 0; row < values.length; row++) values[row] = finite(values[row]!);
    columns.set(column.key, { kind: "number", values } satisfies NumberColumn);
  }
  return { rows: laterals.rows, columns };
}

/** Which rows each filter keeps. */
export const applyFilters = (laterals: Table, filters: readonly Filter[]): readonly FilteredRows[] =>
  filters.map(({ name, text, fill }) => {
    const answers = new Float64Array(laterals.rows);
    fill(laterals.columns, answers, 0, laterals.rows);
    const met = Uint8Array.from(answers, (answer) => (answer === 1 ? 1 : 0));
    return { name, text, met, count: met.reduce((sum, one) => sum + one, 0) };
  });

/** A cell holds a number or nothing: what is divided by zero has no value to show or to add. */
export const finite = (value: number): number => (Number.isFinite(value) ? value : Number.NaN);
