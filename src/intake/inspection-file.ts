import type { InspectionFile } from "../columns/city-file.ts";
import { inspectionColumns } from "../columns/lateral-columns.ts";
import type { Problem } from "../quantity/problem.ts";
import type { ValueWords } from "../reference/value-words.ts";
import { GrowingNumbers } from "../sheet/grow.ts";
import { rowsInOrder } from "../sheet/row-order.ts";
import { type NumberColumn, numberAt, type Table, withColumns } from "../sheet/table.ts";
import { ProblemList } from "./cell-problem.ts";
import { type Layout, readCityRows } from "./city-rows.ts";
import type { ReadingRules } from "./column-readers.ts";
import { readDate } from "./date-cell.ts";
import type { LateralIndex } from "./lateral-file.ts";
import { MissingWords } from "./missing-words.ts";
import { FILE_ROW, NO_LAYOUT, RowColumns } from "./row-columns.ts";
import { cellKey } from "./same-cells.ts";
import type { Tally } from "./tally.ts";
import { idDamage } from "./text-cells.ts";
import { trimmed } from "./trimmed.ts";
import type { OwnWords } from "./word-cells.ts";

export interface InspectionReading {
  readonly words: ValueWords;
  /** The program's own words for code and flag columns: column key → city's word → our word. */
  readonly ownWords: Readonly<Record<string, OwnWords>>;
}

/** Row of the inspection's lateral in the lateral table. */
export const LATERAL_ROW = "lateral_row";

export interface InspectionsRead {
  /**
   * All inspection columns, `lateral_row`, `file_row`, and `other:<heading>`: by lateral in the order of the lateral
   * table, then by date, then as in the file.
   */
  readonly table: Table;
  /** The inspections of lateral row r are rows `first[r]` up to, not including, `first[r + 1]`. */
  readonly first: Uint32Array;
  readonly problems: readonly Problem[];
  readonly tally: Tally;
}

/**
 * Reads a city's inspection file against the laterals already read. An inspection of an unknown lateral, or without a
 * day, is rejected. A row that repeats an earlier one in every column is a duplicate; two surveys of one lateral on
 * one day that differ anywhere are both kept.
 *
 * @param chunks the file's decoded text, cut anywhere
 * @param laterals row of each lateral by id; its size is the number of rows of the lateral table
 */
export async function readInspections(
  chunks: AsyncIterable<string>,
  file: InspectionFile,
  reading: InspectionReading,
  laterals: LateralIndex,
): Promise<InspectionsRead> {
  const problems = new ProblemList(file.file);
  const missing = new MissingWords(reading.words.missing);
  const rules: ReadingRules = {
    file,
    worstGrade: file.worstGrade,
    words: reading.words,
    ownWords: reading.ownWords,
  };
  const columnsFor = (layout: Layout) => new RowColumns(inspectionColumns, file, layout, rules, problems);
  const nearMisses = new NearMisses(laterals);
  let columns = columnsFor(NO_LAYOUT);
  let idHeading = "";
  const lateralRows = new GrowingNumbers();

  const counted = await readCityRows(chunks, file, reading.words, problems, (layout) => {
    columns = columnsFor(layout);
    idHeading = layout.headings[layout.placeOf.get("lateral") ?? -1] ?? "";
    const datePlace = layout.placeOf.get("inspected_on");
    if (datePlace === undefined)
      problems.add(
        "rejected",
        null,
        null,
        "",
        'the heading of the column "inspected_on"',
        `No survey is used without its day: set "inspected_on" among the file's "columns" in program.json.`,
      );
    const dateHeading = datePlace === undefined ? null : (layout.headings[datePlace] ?? null);
    return (id, cells, row) => {
      const lateralRow = laterals.get(id);
      if (lateralRow === undefined) {
        const damage = idDamage(id);
        problems.add(
          "rejected",
          row,
          idHeading,
          id,
          "the id of a lateral of the lateral file",
          damage?.remedy ?? nearMisses.remedyFor(id),
        );
        return "rejected";
      }
      if (datePlace === undefined) return "rejected";
      const date = trimmed(cells[datePlace] ?? "");
      const day = missing.has(date) ? null : readDate(date, file.dateOrder);
      if (typeof day !== "number") {
        problems.add(
          "rejected",
          row,
          dateHeading,
          date,
          day?.expected ?? "the day of the survey",
          day === null
            ? "Surveys are put in order by their day: write it."
            : `${day.remedy} A survey without a day is not used.`,
        );
        return "rejected";
      }
      lateralRows.push(lateralRow);
      columns.take(cells, row);
      return "kept";
    };
  });

  const asRead = withColumns(columns.finish(), [[LATERAL_ROW, lateralRows.finish()]]);
  const order = orderByLateralAndDay(asRead, laterals.size);
  const { rows, repeats } = withoutRepeats(asRead, order);
  for (const { row, of } of repeats)
    problems.add(
      "noted",
      numberAt(asRead, FILE_ROW, row),
      null,
      "a survey that is already there",
      "each survey once",
      `Row ${numberAt(asRead, FILE_ROW, of)} is the same in every column: it is used, this one is not.`,
    );
  const table = rowsInOrder(asRead, rows);
  return {
    table,
    first: firstRows(table, laterals.size),
    problems: problems.finish(),
    tally: { ...counted, kept: counted.kept - repeats.length, duplicates: repeats.length },
  };
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

/** Rows by lateral, then day, then as in the file. Counting rows per lateral keeps a million of them linear. */
export function orderByLateralAndDay(table: Table, laterals: number): Uint32Array {
  const lateralOf = numbersOf(table, LATERAL_ROW);
  const dayOf = numbersOf(table, "inspected_on");
  const next = firstRows(table, laterals);
  const ends = next.slice(1);
  const order = new Uint32Array(table.rows);
  for (let row = 0; row < table.rows; row++) {
    const lateral = lateralOf[row] ?? 0;
    const at = next[lateral] ?? 0;
    order[at] = row;
    next[lateral] = at + 1;
  }
  let start = 0;
  for (const end of ends) {
    if (end - start > 1)
      order.subarray(start, end).sort((a, b) => (dayOf[a] ?? 0) - (dayOf[b] ?? 0) || a - b);
    start = end;
  }
  return order;
}

/** Offsets of each lateral's rows among rows sorted by lateral, one more than laterals. */
export function firstRows(table: Table, laterals: number): Uint32Array {
  const first = new Uint32Array(new SharedArrayBuffer((laterals + 1) * 4));
  for (const lateral of numbersOf(table, LATERAL_ROW)) first[lateral + 1] = (first[lateral + 1] ?? 0) + 1;
  for (let i = 0; i < laterals; i++) first[i + 1] = (first[i + 1] ?? 0) + (first[i] ?? 0);
  return first;
}

/** Leaves out rows that repeat an earlier row of the same lateral and day in every column. */
function withoutRepeats(
  table: Table,
  order: Uint32Array,
): {
  readonly rows: Uint32Array;
  readonly repeats: readonly { readonly row: number; readonly of: number }[];
} {
  const lateralOf = numbersOf(table, LATERAL_ROW);
  const dayOf = numbersOf(table, "inspected_on");
  const sameSurvey = (a: number, b: number) => lateralOf[a] === lateralOf[b] && dayOf[a] === dayOf[b];
  const compared = [...table.columns].filter(([key]) => key !== FILE_ROW).map(([, column]) => column);
  const rows: number[] = [];
  const repeats: { row: number; of: number }[] = [];
  let seen = new Map<string, number>();
  for (let i = 0; i < order.length; i++) {
    const row = order[i] ?? 0;
    const before = i > 0 && sameSurvey(row, order[i - 1] ?? 0);
    const after = i + 1 < order.length && sameSurvey(row, order[i + 1] ?? 0);
    if (!before) seen = new Map();
    if (before || after) {
      const content = JSON.stringify(compared.map((column) => cellKey(column, row)));
      const of = seen.get(content);
      if (of !== undefined) {
        repeats.push({ row, of });
        continue;
      }
      seen.set(content, row);
    }
    rows.push(row);
  }
  return { rows: Uint32Array.from(rows), repeats };
}

export function numbersOf(table: Table, key: string): NumberColumn["values"] {
  const column = table.columns.get(key);
  if (column?.kind !== "number") throw new RangeError(`numbersOf: no number column ${JSON.stringify(key)}`);
  return column.values;
}
