import { joinTables } from "../sheet/joined-tables.ts";
import type { ColumnData } from "../sheet/table.ts";
import type { FittedBasis } from "./fits.ts";
import {
  emptyLists,
  finishLists,
  type PlannedLists,
  type PlannedSheet,
  type Progress,
  planRows,
  sheetOf,
  type Wanted,
} from "./plan-sheet.ts";
import type { ProgramTables } from "./program-tables.ts";

/** What threads that plan one sheet share. */
export interface SharedPlan {
  /** The plan's columns in shared memory: each row is written by one thread only. */
  readonly columns: ReadonlyMap<string, ColumnData>;
  readonly wanted: Wanted;
  /** Rows of a block. */
  readonly blockRows: number;
  /** Blocks given out so far, and blocks done: whoever is free takes the next, so a thread that starts late delays nothing. */
  readonly taken: Int32Array;
}

/** The lists of one block of rows. */
export interface PlannedBlock {
  readonly block: number;
  readonly lists: PlannedLists;
}

const TAKEN = 0;
const DONE = 1;
export const noneTaken = (): Int32Array => new Int32Array(new SharedArrayBuffer(8));

/** Takes blocks of rows and plans them, until all are taken. */
export function planBlocks(
  tables: ProgramTables,
  basis: FittedBasis,
  { columns, wanted, blockRows, taken }: SharedPlan,
  progress: Progress = () => {},
): readonly PlannedBlock[] {
  const { rows } = tables.laterals;
  const planned: PlannedBlock[] = [];
  for (;;) {
    const block = Atomics.add(taken, TAKEN, 1);
    const from = block * blockRows;
    if (from >= rows) return planned;
    const lists = emptyLists(basis);
    planRows(tables, basis, { columns, lists, wanted }, from, Math.min(from + blockRows, rows));
    planned.push({ block, lists: finishLists(lists) });
    progress(Math.min(rows, (Atomics.add(taken, DONE, 1) + 1) * blockRows), rows);
  }
}

/** The sheet of all blocks, whoever planned them: the same, byte for byte, as planned by one thread. */
export function joinBlocks(
  tables: ProgramTables,
  { columns }: SharedPlan,
  planned: readonly PlannedBlock[],
): PlannedSheet {
  const inOrder = planned.toSorted((a, b) => a.block - b.block);
  const joined = (key: keyof PlannedLists) => joinTables(inOrder.map(({ lists }) => lists[key]));
  const lists = {
    offers: joined("offers"),
    lines: joined("lines"),
    materials: joined("materials"),
    seconds: joined("seconds"),
    uses: joined("uses"),
  };
  return sheetOf(tables, columns, lists);
}
