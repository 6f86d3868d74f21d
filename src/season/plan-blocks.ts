import { GrowingNumbers } from "../sheet/grow.ts";
import { joinTables } from "../sheet/joined-tables.ts";
import { type ColumnData, missingNumbers, type NumberColumn, type Table } from "../sheet/table.ts";
import type { FittedBasis } from "./fits.ts";
import {
  emptyLists,
  emptyPlan,
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
  /** Numbers of the lists that have a row a lateral, in shared memory too: held block by block and joined they took a third of the memory. */
  readonly placed: Readonly<Partial<Record<keyof PlannedLists, ReadonlyMap<string, NumberColumn>>>>;
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

/** A plan to share, of which nothing is done. */
export function sharePlan(rows: number, basis: FittedBasis, wanted: Wanted, blockRows: number): SharedPlan {
  const lists = emptyLists(basis);
  const numbersOf = (key: keyof PlannedLists) =>
    new Map(
      Object.entries(lists[key]).flatMap(([name, column]) =>
        column instanceof GrowingNumbers ? [[name, missingNumbers(rows)] as const] : [],
      ),
    );
  return {
    columns: emptyPlan(rows, basis),
    placed: {
      materials: numbersOf("materials"),
      ...(wanted.offers === "chosen" ? { offers: numbersOf("offers") } : {}),
    },
    wanted,
    blockRows,
    taken: new Int32Array(new SharedArrayBuffer(8)),
  };
}

/** Takes blocks of rows and plans them, until all are taken. */
export function planBlocks(
  tables: ProgramTables,
  basis: FittedBasis,
  { columns, placed, wanted, blockRows, taken }: SharedPlan,
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
    const finished = finishLists(lists);
    const leaveNumbers = (key: keyof PlannedLists) => leftAfterPlacing(finished[key], placed[key], from);
    planned.push({
      block,
      lists: { ...finished, materials: leaveNumbers("materials"), offers: leaveNumbers("offers") },
    });
    progress(Math.min(rows, (Atomics.add(taken, DONE, 1) + 1) * blockRows), rows);
  }
}

/** Leaves nothing to take: every thread ends with the block it has in hand. */
export function takeNoMore({ taken }: SharedPlan): void {
  Atomics.store(taken, TAKEN, 2 ** 30);
}

/** Puts the numbers of a block's list where its rows stand, and gives back what is left of the list. */
function leftAfterPlacing(
  list: Table,
  places: ReadonlyMap<string, NumberColumn> | undefined,
  from: number,
): Table {
  if (places === undefined) return list;
  const left = new Map<string, ColumnData>();
  for (const [key, column] of list.columns) {
    const place = places.get(key);
    if (place !== undefined && column.kind === "number") place.values.set(column.values, from);
    else left.set(key, column);
  }
  return { rows: list.rows, columns: left };
}

/** The sheet of all blocks, whoever planned them: the same, byte for byte, as planned by one thread. */
export function joinBlocks(
  tables: ProgramTables,
  { columns, placed }: SharedPlan,
  planned: readonly PlannedBlock[],
): PlannedSheet {
  const inOrder = planned.toSorted((a, b) => a.block - b.block);
  const joined = (key: keyof PlannedLists): Table => {
    const list = joinTables(inOrder.map(({ lists }) => lists[key]));
    return { rows: list.rows, columns: new Map([...(placed[key] ?? []), ...list.columns]) };
  };
  const lists = {
    offers: joined("offers"),
    lines: joined("lines"),
    materials: joined("materials"),
    seconds: joined("seconds"),
    uses: joined("uses"),
  };
  return sheetOf(tables, columns, lists);
}
