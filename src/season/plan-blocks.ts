import { planLateral } from "../plan/plan-lateral.ts";
import { joinTables } from "../sheet/joined-tables.ts";
import type { FittedBasis } from "./fits.ts";
import { openLaterals } from "./lateral-at.ts";
import { LineSums, lineOwners } from "./line-sums.ts";
import type { PlannedSheet, Progress, Wanted } from "./plan-sheet.ts";
import {
  emptyLists,
  emptyTables,
  finishLists,
  type PlannedLists,
  type PlanTables,
  PlanWriter,
  sheetOf,
} from "./plan-tables.ts";
import type { ProgramTables } from "./program-tables.ts";

/** Rows planned at a stretch: often enough to see the progress, rare enough to cost nothing. */
const BLOCK = 1024;

/** A sheet while it is planned, by one thread or by several that share it. */
export interface SharedPlan {
  readonly tables: PlanTables;
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

/** A plan of which all rows are written, and the lists still lie in blocks. */
export interface PlannedBlocks {
  readonly plan: SharedPlan;
  readonly blocks: readonly PlannedBlock[];
}

const TAKEN = 0;
const DONE = 1;

/** A plan to share, of which nothing is done. */
export const sharePlan = (
  rows: number,
  basis: FittedBasis,
  wanted: Wanted,
  blockRows = BLOCK,
): SharedPlan => ({
  tables: emptyTables(rows, basis, wanted),
  wanted,
  blockRows,
  taken: new Int32Array(new SharedArrayBuffer(8)),
});

/** Takes blocks of rows and plans them, until all are taken. */
export function planBlocks(
  tables: ProgramTables,
  basis: FittedBasis,
  { tables: planned, wanted, blockRows, taken }: SharedPlan,
  progress: Progress = () => {},
): readonly PlannedBlock[] {
  const { rows } = tables.laterals;
  const writer = new PlanWriter(planned, basis);
  const lateralOf = openLaterals(tables);
  const summed = wanted === "everything" ? null : lineOwners(tables.laterals, planned.laterals);
  const blocks: PlannedBlock[] = [];
  for (;;) {
    const block = Atomics.add(taken, TAKEN, 1);
    const from = block * blockRows;
    // The first is there even of a city without laterals: lists without rows have their columns from it.
    if (from >= rows && block > 0) return blocks;
    const lists = emptyLists(basis, summed);
    for (let row = from; row < Math.min(from + blockRows, rows); row++)
      writer.write(row, planLateral(lateralOf(row), basis), lists);
    blocks.push({ block, lists: finishLists(lists) });
    progress(Math.min(rows, (Atomics.add(taken, DONE, 1) + 1) * blockRows), rows);
  }
}

/** Leaves nothing to take: every thread ends with the block it has in hand. */
export function takeNoMore({ taken }: SharedPlan): void {
  Atomics.store(taken, TAKEN, 2 ** 30);
}

/** The sheet of all blocks, whoever planned them: the same, byte for byte, as planned by one thread. */
export function joinBlocks(
  tables: ProgramTables,
  { plan: { tables: written, wanted }, blocks }: PlannedBlocks,
): PlannedSheet {
  const inOrder = blocks.toSorted((a, b) => a.block - b.block);
  const joined = (key: keyof PlannedLists) => joinTables(inOrder.flatMap(({ lists }) => lists[key] ?? []));
  const isWhole = wanted === "everything";
  const summed = () => {
    const sums = new LineSums(lineOwners(tables.laterals, written.laterals));
    for (const { lists } of inOrder) sums.addAll(lists.lines);
    return sums.finish();
  };
  return sheetOf(tables, written, {
    offers: isWhole ? joined("offers") : null,
    lines: isWhole ? joined("lines") : summed(),
    seconds: joined("seconds"),
    uses: isWhole ? joined("uses") : null,
  });
}
