import { inspectionColumns } from "../columns/lateral-columns.ts";
import { emptyTable } from "../sheet/empty-table.ts";
import { joinTables } from "../sheet/joined-tables.ts";
import { rowsInOrder } from "../sheet/row-order.ts";
import { type ColumnData, numberAt, numbersOf, type Table } from "../sheet/table.ts";
import { ProblemList } from "./cell-problem.ts";
import type { InspectionsRead } from "./inspection-file.ts";
import { FILE_ROW } from "./row-columns.ts";
import { cellKey } from "./same-cells.ts";
import { firstRows, LATERAL_ROW, orderByLateralAndDay } from "./survey-rows.ts";
import type { Tally } from "./tally.ts";

/** One inspection file, read against the laterals. */
export interface InspectionPart {
  readonly file: string;
  readonly read: InspectionsRead;
}

export interface MergedInspections extends Pick<InspectionsRead, "table" | "first" | "problems"> {
  /** A tally a file: a survey that an earlier file has too is a duplicate of the later one. */
  readonly tallies: readonly (Tally & { readonly file: string })[];
}

/**
 * The surveys of all inspection files as one table: by lateral, then by day, then by file in the order given, then as in
 * the file. A survey that another file has too (same lateral and day, same in every column the program knows) counts
 * once; columns only one of the files has, such as a weather column, do not make it another survey.
 *
 * @param parts in an order that does not depend on when a file was taken in
 * @param laterals rows of the lateral table
 */
export function mergeInspections(parts: readonly InspectionPart[], laterals: number): MergedInspections {
  const [only] = parts;
  if (only === undefined)
    return {
      table: emptyTable(inspectionColumns),
      first: new Uint32Array(laterals + 1),
      problems: [],
      tallies: [],
    };
  if (parts.length === 1) return { ...only.read, tallies: [{ file: only.file, ...only.read.tally }] };

  const joined = joinTables(parts.map(({ read }) => read.table));
  const partOf = partOfRow(parts);
  const { rows, repeats } = acrossFiles(joined, orderByLateralAndDay(joined, laterals), partOf);
  const notes = parts.map(({ file }) => new ProblemList(file));
  const repeated = new Array<number>(parts.length).fill(0);
  for (const { row, of } of repeats) {
    const part = partOf[row]!;
    repeated[part]!++;
    notes[part]?.add(
      "noted",
      numberAt(joined, FILE_ROW, row),
      null,
      "a survey that is already there",
      "each survey once",
      `Row ${numberAt(joined, FILE_ROW, of)} of ${parts[partOf[of]!]?.file} is the same survey: it is used, this one is not.`,
    );
  }
  const table = rowsInOrder(joined, rows);
  return {
    table,
    first: firstRows(table, LATERAL_ROW, laterals),
    problems: parts.flatMap(({ read }, i) => [...read.problems, ...(notes[i]?.finish() ?? [])]),
    tallies: parts.map(({ file, read: { tally } }, i) => ({
      file,
      ...tally,
      kept: tally.kept - repeated[i]!,
      duplicates: tally.duplicates + repeated[i]!,
    })),
  };
}

function partOfRow(parts: readonly InspectionPart[]): Uint32Array {
  const partOf = new Uint32Array(parts.reduce((sum, { read }) => sum + read.table.rows, 0));
  let start = 0;
  for (const [part, { read }] of parts.entries()) {
    partOf.fill(part, start, start + read.table.rows);
    start += read.table.rows;
  }
  return partOf;
}

/** Leaves out the rows that repeat a row of another file; repeats inside a file were left out when it was read. */
function acrossFiles(table: Table, order: Uint32Array, partOf: Uint32Array) {
  const lateralOf = numbersOf(table, LATERAL_ROW);
  const dayOf = numbersOf(table, "inspected_on");
  const known: ColumnData[] = inspectionColumns.flatMap(({ key }) => table.columns.get(key) ?? []);
  const rows: number[] = [];
  const repeats: { readonly row: number; readonly of: number }[] = [];
  let seen = new Map<string, number>();
  for (let i = 0; i < order.length; i++) {
    const row = order[i]!;
    const last = order[i - 1];
    const sameDay = last !== undefined && lateralOf[row] === lateralOf[last] && dayOf[row] === dayOf[last];
    if (!sameDay) seen = new Map();
    const next = order[i + 1];
    const alone =
      !sameDay && !(next !== undefined && lateralOf[row] === lateralOf[next] && dayOf[row] === dayOf[next]);
    if (!alone) {
      const content = JSON.stringify(known.map((column) => cellKey(column, row)));
      const of = seen.get(content);
      if (of !== undefined && partOf[of] !== partOf[row]) {
        repeats.push({ row, of });
        continue;
      }
      if (of === undefined) seen.set(content, row);
    }
    rows.push(row);
  }
  return { rows: Uint32Array.from(rows), repeats };
}
