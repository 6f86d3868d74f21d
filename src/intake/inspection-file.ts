import type { InspectionFile } from "../columns/city-file.ts";
import { inspectionColumns } from "../columns/lateral-columns.ts";
import type { Problem } from "../quantity/problem.ts";
import type { ValueWords } from "../reference/value-words.ts";
import { GrowingNumbers } from "../sheet/grow.ts";
import { rowsInOrder } from "../sheet/row-order.ts";
import { numberAt, type Table, withColumns } from "../sheet/table.ts";
import { ProblemList } from "./cell-problem.ts";
import { type Layout, readCityRows } from "./city-rows.ts";
import type { ReadingRules } from "./column-readers.ts";
import type { LateralIndex } from "./lateral-file.ts";
import { MissingWords } from "./missing-words.ts";
import { FILE_ROW, NO_LAYOUT, RowColumns } from "./row-columns.ts";
import { RowsAhead } from "./rows-ahead.ts";
import { firstRows, LATERAL_ROW, orderByLateralAndDay, SurveyKeys, withoutRepeats } from "./survey-rows.ts";
import type { Tally } from "./tally.ts";
import type { OwnWords } from "./word-cells.ts";

export interface InspectionReading {
  readonly words: ValueWords;
  /** The program's own words for code and flag columns: column key → city's word → our word. */
  readonly ownWords: Readonly<Record<string, OwnWords>>;
  /** Of the file, where known: columns take their room at once. */
  readonly bytes?: number | undefined;
}

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
 * @param chunks the file's text as UTF-8, cut anywhere
 * @param laterals row of each lateral by id; its size is the number of rows of the lateral table
 */
export async function readInspections(
  chunks: AsyncIterable<Uint8Array>,
  file: InspectionFile,
  reading: InspectionReading,
  laterals: LateralIndex,
): Promise<InspectionsRead> {
  return orderSurveys(await readSurveyRows(chunks, file, reading, laterals), laterals.size);
}

/** The rows of an inspection file that are kept, as in the file, with the rows of their laterals. */
export interface SurveyRows {
  readonly asRead: Table;
  readonly problems: ProblemList;
  readonly counted: Tally;
}

export async function readSurveyRows(
  chunks: AsyncIterable<Uint8Array>,
  file: InspectionFile,
  reading: InspectionReading,
  laterals: LateralIndex,
  ahead = new RowsAhead(reading.bytes),
): Promise<SurveyRows> {
  const problems = new ProblemList(file.file);
  const missing = new MissingWords(reading.words.missing);
  const rules: ReadingRules = {
    file,
    worstGrade: file.worstGrade,
    words: reading.words,
    ownWords: reading.ownWords,
    expected: ahead.expected,
  };
  const columnsFor = (layout: Layout) => new RowColumns(inspectionColumns, file, layout, rules, problems);
  let columns = columnsFor(NO_LAYOUT);
  const lateralRows = new GrowingNumbers(ahead.expected);

  const counted = await readCityRows(chunks, file, reading.words, problems, ahead, (layout) => {
    columns = columnsFor(layout);
    const keys = new SurveyKeys(file, layout, missing, laterals, problems);
    return {
      take(block, row, from, to) {
        const lateralRow = keys.lateralOf(block, row, from, to);
        if (lateralRow === null) return "rejected";
        lateralRows.push(lateralRow);
        columns.choose(row);
        return "kept";
      },
      end: (block) => columns.take(block),
    };
  });

  const asRead = withColumns(columns.finish(), [[LATERAL_ROW, lateralRows.finish()]]);
  return { asRead, problems, counted };
}

/** Puts the rows in order and leaves out those that repeat. @param laterals rows of the lateral table */
export function orderSurveys({ asRead, problems, counted }: SurveyRows, laterals: number): InspectionsRead {
  const order = orderByLateralAndDay(asRead, laterals);
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
    first: firstRows(table, LATERAL_ROW, laterals),
    problems: problems.finish(),
    tally: { ...counted, kept: counted.kept - repeats.length, duplicates: repeats.length },
  };
}
