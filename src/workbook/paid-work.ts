import type { Part } from "../bidding/bid.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import type { BidScheduleLine } from "./bid-view.ts";
import type { BookContents } from "./book-contents.ts";
import { districtNumbers } from "./lateral-list.ts";
import { firstOwnRows } from "./own-rows.ts";

export interface PaidLine {
  readonly line: BidScheduleLine;
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

/** @param partOf the part of the bid that a lateral is in, by its row */
export function paidWork(
  contents: Pick<BookContents, "program">,
  schedule: readonly BidScheduleLine[],
  partOf: (row: number) => Part,
): PaidWork {
  const byPart = new Map<Part, Map<string, BidScheduleLine>>();
  for (const line of schedule) {
    const own = byPart.get(line.part) ?? new Map<string, BidScheduleLine>();
    byPart.set(line.part, own.set(line.key, line));
  }
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
      const lineByKey = byPart.get(partOf(row))!;
      for (let at = first[row]!; at < first[row + 1]!; at++) {
        const key = textAt(lines, "line", at);
        list.push({ line: found(lineByKey, key), hundredths: numberAt(lines, "hundredths", at) });
      }
      return list;
    },
  };
}

export const byCodePoints = (a: string, b: string): number => (a < b ? -1 : a === b ? 0 : 1);

function found<Key, Value>(map: ReadonlyMap<Key, Value>, key: Key): Value {
  const value = map.get(key);
  if (value === undefined) throw new RangeError(`paidWork: nothing known of ${JSON.stringify(key)}`);
  return value;
}
