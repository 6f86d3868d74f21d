import { numberAt, textAt } from "../sheet/table.ts";
import type { ScheduleLine } from "./bid-schedule.ts";
import type { BookContents } from "./book-contents.ts";
import { districtNumbers } from "./lateral-list.ts";
import { firstOwnRows } from "./own-rows.ts";

export interface PaidLine {
  readonly line: ScheduleLine;
  readonly hundredths: number;
}

/** The laterals with paid work, and their bid lines. */
export interface PaidWork {
  /** Rows of laterals with bid lines, by district and then by id, both by code points. */
  readonly rows: readonly number[];
  /** The bid lines of one of them. */
  readonly entries: (row: number) => readonly PaidLine[];
  /** The district number of each lateral, by its row. */
  readonly districts: Uint32Array;
}

export function paidWork(contents: BookContents, lineByKey: ReadonlyMap<string, ScheduleLine>): PaidWork {
  const { laterals, lines } = contents.program;
  const districts = districtNumbers(contents);
  const first = firstOwnRows(lines, laterals.rows);
  const paid: { readonly row: number; readonly id: string }[] = [];
  for (let row = 0; row < laterals.rows; row++)
    if (first[row + 1]! > first[row]!) paid.push({ row, id: textAt(laterals, "lateral", row) });
  paid.sort((a, b) => districts[a.row]! - districts[b.row]! || byCodePoints(a.id, b.id));
  return {
    rows: paid.map(({ row }) => row),
    districts,
    entries: (row) => {
      const list: PaidLine[] = [];
      for (let at = first[row]!; at < first[row + 1]!; at++) {
        const key = textAt(lines, "line", at);
        list.push({ line: found(lineByKey, key), hundredths: numberAt(lines, "hundredths", at) });
      }
      return list;
    },
  };
}

const byCodePoints = (a: string, b: string): number => (a < b ? -1 : a === b ? 0 : 1);

function found<Key, Value>(map: ReadonlyMap<Key, Value>, key: Key): Value {
  const value = map.get(key);
  if (value === undefined) throw new RangeError(`paidWork: nothing known of ${JSON.stringify(key)}`);
  return value;
}
