import { districtName } from "../quantity/district-name.ts";
import { textAt } from "../sheet/table.ts";
import type { BookContents } from "./book-contents.ts";
import { type LongList, listByDistrict } from "./long-list.ts";

/** What a list has of each lateral. */
export interface EachLateral<Entry> {
  /** How many entries. */
  readonly count: (row: number) => number;
  /** The entries, from the lateral's row and its place in the order, 1 first. */
  readonly entries: (row: number, place: number) => Iterable<Entry>;
}

/**
 * A list of what laterals have.
 *
 * @param order rows of the lateral table
 */
export function listOfLaterals<Entry>(
  contents: Pick<BookContents, "program" | "rowsASheet">,
  order: readonly number[] | Uint32Array,
  { count, entries }: EachLateral<Entry>,
): LongList<Entry> {
  const { districts } = contents.program.totals;
  const numbers = districtNumbers(contents);
  const perDistrict = districts.map(() => 0);
  for (const row of order) perDistrict[numbers[row]! - 1]! += count(row);
  return listByDistrict({
    perDistrict,
    districtNames: districts.map(({ district }) => districtName(district)),
    rowsASheet: contents.rowsASheet,
    *between(from, to) {
      let place = 0;
      for (const row of order) {
        place++;
        if (numbers[row]! >= from && numbers[row]! <= to) yield* entries(row, place);
      }
    },
  });
}

export interface Ranked {
  /** Of the lateral table. */
  readonly row: number;
  /** Worst risk is 1. */
  readonly rank: number;
}

/** Every lateral once, in the order of risk. */
export const rankedLaterals = (contents: BookContents): LongList<Ranked> =>
  listOfLaterals(contents, contents.program.order, {
    count: () => 1,
    entries: (row, rank) => [{ row, rank }],
  });

/** The district of each lateral by number, 1 first, in the order of the totals: formulas compare numbers, never a city's text. */
export function districtNumbers({ program }: Pick<BookContents, "program">): Uint32Array {
  const { laterals, totals } = program;
  const numbers = new Map(totals.districts.map(({ district }, i) => [district, i + 1]));
  return Uint32Array.from({ length: laterals.rows }, (_, row) => {
    const number = numbers.get(textAt(laterals, "district", row));
    if (number === undefined)
      throw new RangeError(`districtNumbers: row ${row} is in no district of the totals`);
    return number;
  });
}
