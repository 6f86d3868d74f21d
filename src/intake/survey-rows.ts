import type { CityFile } from "../columns/city-file.ts";
import { numbersOf, type Table } from "../sheet/table.ts";
import { CellMemo } from "./cell-memo.ts";
import type { ProblemList } from "./cell-problem.ts";
import type { Layout } from "./city-rows.ts";
import { readDate } from "./date-cell.ts";
import type { LateralIndex } from "./lateral-file.ts";
import type { MissingWords } from "./missing-words.ts";
import type { RowBlock } from "./row-block.ts";
import { FILE_ROW } from "./row-columns.ts";
import { cellKey } from "./same-cells.ts";
import { idDamage } from "./text-cells.ts";
import { trimmed } from "./trimmed.ts";

/** Row of a survey's lateral in the lateral table. */
export const LATERAL_ROW = "lateral_row";

/** The two things that every row about a survey must have: a lateral of the lateral file, and a day. */
export class SurveyKeys {
  readonly #file: CityFile<string>;
  readonly #missing: MissingWords;
  readonly #laterals: LateralIndex;
  readonly #problems: ProblemList;
  readonly #nearMisses: NearMisses;
  readonly #idHeading: string;
  readonly #dateHeading: string | null;
  readonly #datePlace: number | undefined;
  /** Days that were found good. */
  readonly #days = new CellMemo();

  constructor(
    file: CityFile<string>,
    { headings, placeOf }: Layout,
    missing: MissingWords,
    laterals: LateralIndex,
    problems: ProblemList,
  ) {
    this.#file = file;
    this.#missing = missing;
    this.#laterals = laterals;
    this.#problems = problems;
    this.#nearMisses = new NearMisses(laterals);
    this.#idHeading = headings[placeOf.get("lateral") ?? -1] ?? "";
    this.#datePlace = placeOf.get("inspected_on");
    this.#dateHeading = this.#datePlace === undefined ? null : (headings[this.#datePlace] ?? null);
    if (this.#datePlace === undefined)
      problems.add(
        "rejected",
        null,
        null,
        "",
        'the heading of the column "inspected_on"',
        `No survey is used without its day: set "inspected_on" among the file's "columns" in program.json.`,
      );
  }

  /**
   * Row of the lateral with the id `block.bytes[from … to)`; null, with a problem, when the row cannot be used.
   *
   * @param row of the block
   */
  lateralOf(block: RowBlock, row: number, from: number, to: number): number | null {
    const fileRow = block.firstRow + row;
    const lateralRow = this.#laterals.find(block.bytes, from, to);
    if (lateralRow < 0) {
      const id = block.text(from, to);
      this.#problems.add(
        "rejected",
        fileRow,
        this.#idHeading,
        id,
        "the id of a lateral of the lateral file",
        idDamage(id)?.remedy ?? this.#nearMisses.remedyFor(id),
      );
      return null;
    }
    const place = this.#datePlace;
    if (place === undefined) return null;
    const has = place < block.count(row);
    const start = has ? block.from(row, place) : 0;
    const end = has ? block.to(row, place) : 0;
    if (this.#days.find(block.bytes, start, end) >= 0) return lateralRow;
    const date = trimmed(block.text(start, end));
    const day = this.#missing.has(date) ? null : readDate(date, this.#file.dateOrder);
    if (typeof day === "number") {
      this.#days.keep(block.bytes, start, end, day);
      return lateralRow;
    }
    this.#problems.add(
      "rejected",
      fileRow,
      this.#dateHeading,
      date,
      day?.expected ?? "the day of the survey",
      day === null
        ? "Surveys are put in order by their day: write it."
        : `${day.remedy} A survey without a day is not used.`,
    );
    return null;
  }
}

/** Says what an unknown id may have been meant for. Leading zeros are never added or dropped to make a match. */
class NearMisses {
  readonly #laterals: LateralIndex;
  #byBareId: Map<string, string> | null = null;

  constructor(laterals: LateralIndex) {
    this.#laterals = laterals;
  }

  remedyFor(id: string): string {
    if (this.#byBareId === null) {
      this.#byBareId = new Map();
      for (const known of this.#laterals.keys()) this.#byBareId.set(bareId(known), known);
    }
    const near = this.#byBareId.get(bareId(id));
    return near === undefined
      ? "The lateral file has no such id: correct it, or add the lateral."
      : `The lateral file has ${JSON.stringify(near)}: only leading zeros differ, and they are not matched by guess. Export the ids of both files as text.`;
  }
}

const bareId = (id: string): string => id.replace(/^0+(?=.)/, "");

/** Rows by lateral, then day, then `within` a day, then as in the file. Counting rows per lateral keeps a million of them linear. */
export function orderByLateralAndDay(
  table: Table,
  laterals: number,
  within?: (a: number, b: number) => number,
): Uint32Array {
  const lateralOf = numbersOf(table, LATERAL_ROW);
  const dayOf = numbersOf(table, "inspected_on");
  const order = new Uint32Array(table.rows);
  // Many files are in order as they are: to look costs less than to put a million in place.
  if (within === undefined && areInOrder(lateralOf, dayOf)) {
    for (let row = 0; row < order.length; row++) order[row] = row;
    return order;
  }
  const next = firstRows(table, LATERAL_ROW, laterals);
  const ends = next.slice(1);
  for (let row = 0; row < table.rows; row++) {
    const lateral = lateralOf[row]!;
    const at = next[lateral]!;
    order[at] = row;
    next[lateral] = at + 1;
  }
  const compare = (a: number, b: number) => dayOf[a]! - dayOf[b]! || within?.(a, b) || a - b;
  let start = 0;
  for (let lateral = 0; lateral < laterals; lateral++) {
    const end = ends[lateral]!;
    // Most files are in order: to look costs less than to sort what is sorted.
    let at = start + 1;
    while (at < end && compare(order[at - 1]!, order[at]!) < 0) at++;
    if (at < end) order.subarray(start, end).sort(compare);
    start = end;
  }
  return order;
}

/** Whether rows are by lateral and then by day. */
function areInOrder(lateralOf: Float64Array, dayOf: Float64Array): boolean {
  for (let row = 1; row < lateralOf.length; row++) {
    const before = lateralOf[row - 1]!;
    const lateral = lateralOf[row]!;
    if (!(before < lateral || (before === lateral && dayOf[row - 1]! <= dayOf[row]!))) return false;
  }
  return true;
}

/** Offsets of each owner's rows among rows sorted by owner, one more than owners; rows without an owner come last. */
export function firstRows(table: Table, ownerKey: string, owners: number): Uint32Array {
  const first = new Uint32Array(new SharedArrayBuffer((owners + 1) * 4));
  const ownerOf = numbersOf(table, ownerKey);
  for (let row = 0; row < ownerOf.length; row++) {
    const owner = ownerOf[row]!;
    if (!Number.isNaN(owner)) first[owner + 1]!++;
  }
  for (let i = 0; i < owners; i++) first[i + 1]! += first[i]!;
  return first;
}

/** Leaves out rows that repeat an earlier row of the same lateral and day in every column. Rows that cannot repeat are all kept. */
export function withoutRepeats(
  table: Table,
  order: Uint32Array,
  canRepeat: (row: number) => boolean = () => true,
): {
  readonly rows: Uint32Array;
  readonly repeats: readonly { readonly row: number; readonly of: number }[];
} {
  const lateralOf = numbersOf(table, LATERAL_ROW);
  const dayOf = numbersOf(table, "inspected_on");
  const sameSurvey = (a: number, b: number) => lateralOf[a] === lateralOf[b] && dayOf[a] === dayOf[b];
  const sameAsNext = (i: number) => i >= 0 && i + 1 < order.length && sameSurvey(order[i]!, order[i + 1]!);
  const compared = [...table.columns].filter(([key]) => key !== FILE_ROW).map(([, column]) => column);
  const rows = new Uint32Array(order.length);
  let kept = 0;
  const repeats: { row: number; of: number }[] = [];
  let seen = new Map<string, number>();
  for (let i = 0; i < order.length; i++) {
    const row = order[i]!;
    const before = sameAsNext(i - 1);
    const after = sameAsNext(i);
    if (after && !before) seen = new Map();
    if ((before || after) && canRepeat(row)) {
      const content = JSON.stringify(compared.map((column) => cellKey(column, row)));
      const of = seen.get(content);
      if (of !== undefined) {
        repeats.push({ row, of });
        continue;
      }
      seen.set(content, row);
    }
    rows[kept++] = row;
  }
  return { rows: rows.subarray(0, kept), repeats };
}
