import type { InspectionFile } from "../columns/city-file.ts";
import type { Problem } from "../quantity/problem.ts";
import { numbersOf, type Table, type TextColumn, withColumns } from "../sheet/table.ts";
import { TextIndex } from "../sheet/text-index.ts";
import { MOST_PROBLEMS, ProblemList } from "./cell-problem.ts";
import {
  type InspectionReading,
  type InspectionsRead,
  orderSurveys,
  readSurveyRows,
} from "./inspection-file.ts";
import type { LateralIndex } from "./lateral-file.ts";
import { RowsAhead } from "./rows-ahead.ts";
import { LATERAL_ROW } from "./survey-rows.ts";
import type { Tally } from "./tally.ts";

/** An inspection file read before its laterals were: data only, so that a thread of its own can read it. */
export interface InspectionsAhead {
  /** As in the file; `lateral_row` is a row of `ids`. */
  readonly asRead: Table;
  /** Every id that was met, once. */
  readonly ids: TextColumn;
  readonly problems: readonly Problem[];
  readonly counted: Tally;
}

/** Reads an inspection file as if every id in it were a lateral's. */
export async function readInspectionsAhead(
  chunks: AsyncIterable<Uint8Array>,
  file: InspectionFile,
  reading: InspectionReading,
): Promise<InspectionsAhead> {
  const ahead = new RowsAhead(reading.bytes);
  const met = new IdsMet(ahead.expected);
  const { asRead, problems, counted } = await readSurveyRows(chunks, file, reading, met, ahead);
  return { asRead, ids: met.finish(), problems: problems.finish(), counted };
}

/**
 * The inspections of laterals that are known by now: the same as {@link readInspections} reads of the file. Null where an id is no lateral's, or
 * problems are too many to be listed: then the file must be read again, against the laterals.
 */
export function placeInspections(
  { asRead, ids, problems, counted }: InspectionsAhead,
  file: string,
  laterals: LateralIndex,
): InspectionsRead | null {
  if (problems.length >= MOST_PROBLEMS) return null;
  const { bytes, ends } = ids;
  const rowOf = new Float64Array(ends.length - 1);
  for (let i = 0; i < rowOf.length; i++) {
    const row = laterals.findAfter(i === 0 ? -1 : rowOf[i - 1]!, bytes, ends[i]!, ends[i + 1]!);
    if (row < 0) return null;
    rowOf[i] = row;
  }
  const values = new Float64Array(new SharedArrayBuffer(asRead.rows * 8));
  const met = numbersOf(asRead, LATERAL_ROW);
  for (let i = 0; i < values.length; i++) values[i] = rowOf[met[i]!]!;
  const list = new ProblemList(file);
  for (const { severity, row, column, found, expected, remedy } of problems)
    list.add(severity, row, column, found, expected, remedy);
  const placed = withColumns(asRead, [[LATERAL_ROW, { kind: "number", values }]]);
  return orderSurveys({ asRead: placed, problems: list, counted }, laterals.size);
}

/** Takes any id for a lateral's and numbers it as it is met. */
class IdsMet extends TextIndex {
  override find(bytes: Uint8Array, from: number, to: number): number {
    return this.addBytes(bytes, from, to);
  }
}
