import type { ObservationFile } from "../columns/city-file.ts";
import { observationColumns } from "../columns/lateral-columns.ts";
import { isoDate } from "../quantity/calendar.ts";
import type { Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { day } from "../quantity/si.ts";
import type { ObservationKinds } from "../reference/observation-kinds.ts";
import { GrowingNumbers } from "../sheet/grow.ts";
import { rowsInOrder } from "../sheet/row-order.ts";
import { numberAt, numbersOf, type Table, textAt, withColumns } from "../sheet/table.ts";
import { ProblemList } from "./cell-problem.ts";
import { type Layout, readCityRows } from "./city-rows.ts";
import type { ReadingRules } from "./column-readers.ts";
import type { InspectionReading, InspectionsRead } from "./inspection-file.ts";
import type { LateralIndex } from "./lateral-file.ts";
import { joinMarkedLengths } from "./length-marks.ts";
import { MissingWords } from "./missing-words.ts";
import { type CityKinds, KindReader } from "./observation-kind.ts";
import { FILE_ROW, NO_LAYOUT, RowColumns } from "./row-columns.ts";
import { RowsAhead } from "./rows-ahead.ts";
import { firstRows, LATERAL_ROW, orderByLateralAndDay, SurveyKeys, withoutRepeats } from "./survey-rows.ts";
import type { Tally } from "./tally.ts";

export interface ObservationReading extends InspectionReading {
  readonly kinds: ObservationKinds;
  readonly cityKinds: CityKinds;
}

/** Row of the observation's survey in the inspection table; missing when it is of none, or of one of several. */
export const INSPECTION_ROW = "inspection_row";
/** What the observation counts towards: see {@link knownModes}. */
export const MODE = "mode";

export interface ObservationsRead {
  /**
   * All observation columns, `lateral_row`, `inspection_row`, `mode`, `file_row` and `other:<heading>`: by survey in
   * the order of the inspection table, then by distance, then as in the file; those of no survey last.
   */
  readonly table: Table;
  /** The observations of survey row r are rows `first[r]` up to, not including, `first[r + 1]`. */
  readonly first: Uint32Array;
  readonly problems: readonly Problem[];
  readonly tally: Tally;
}

/**
 * Reads a city's observation file against the laterals and surveys already read. An observation of an unknown lateral,
 * or without a day, is rejected. One of no survey is kept and not used. A row that repeats an earlier one in every
 * column is a duplicate, but only where it says its distance: without one, two equal rows may be two defects.
 *
 * @param chunks the file's text as UTF-8, cut anywhere
 */
export async function readObservations(
  chunks: AsyncIterable<Uint8Array>,
  file: ObservationFile,
  reading: ObservationReading,
  laterals: LateralIndex,
  surveys: Pick<InspectionsRead, "table" | "first">,
): Promise<ObservationsRead> {
  const problems = new ProblemList(file.file);
  const missing = new MissingWords(reading.words.missing);
  const ahead = new RowsAhead(reading.bytes);
  const rules: ReadingRules = {
    file,
    worstGrade: file.worstGrade,
    words: reading.words,
    ownWords: reading.ownWords,
    expected: ahead.expected,
  };
  let kinds = new KindReader(reading.kinds, reading.cityKinds, missing);
  const columnsFor = (layout: Layout) =>
    new RowColumns(observationColumns, file, layout, rules, problems, { kind: () => kinds });
  let columns = columnsFor(NO_LAYOUT);
  let kindHeading: string | null = null;
  let kindPlace: number | undefined;
  const lateralRows = new GrowingNumbers(ahead.expected);

  const counted = await readCityRows(chunks, file, reading.words, problems, ahead, (layout) => {
    kinds = new KindReader(reading.kinds, reading.cityKinds, missing);
    columns = columnsFor(layout);
    kindPlace = layout.placeOf.get("kind");
    kindHeading = kindPlace === undefined ? null : (layout.headings[kindPlace] ?? null);
    const keys = new SurveyKeys(file, layout, missing, laterals, problems);
    return {
      take(block, row, from, to) {
        const lateralRow = keys.lateralOf(block, row, from, to);
        if (lateralRow === null) return "rejected";
        lateralRows.push(lateralRow);
        columns.choose(row);
        // A file without the column says of no row what was seen.
        if (kindPlace === undefined) kinds.takeCell("", block.firstRow + row);
        return "kept";
      },
      end: (block) => columns.take(block),
    };
  });

  kinds.noteUnknown(kindHeading, problems);
  const read = withColumns(columns.finish(), [
    [LATERAL_ROW, lateralRows.finish()],
    [MODE, kinds.modes()],
  ]);
  const asRead = withColumns(read, [[INSPECTION_ROW, surveyOfEach(read, surveys, problems)]]);
  noteReversed(asRead, problems);
  const order = orderByLateralAndDay(asRead, laterals.size, byDistance(asRead));
  const hasPlace = (row: number) => !Number.isNaN(numberAt(asRead, "from", row));
  const { rows, repeats } = withoutRepeats(asRead, order, hasPlace);
  for (const { row, of } of repeats)
    problems.add(
      "noted",
      numberAt(asRead, FILE_ROW, row),
      null,
      "an observation that is already there",
      "each observation once",
      `Row ${numberAt(asRead, FILE_ROW, of)} is the same in every column: it is used, this one is not.`,
    );
  const table = joinMarkedLengths(
    rowsInOrder(asRead, bySurvey(asRead, rows)),
    INSPECTION_ROW,
    MODE,
    problems,
  );
  return {
    table,
    first: firstRows(table, INSPECTION_ROW, surveys.table.rows),
    problems: problems.finish(),
    tally: { ...counted, kept: counted.kept - repeats.length, duplicates: repeats.length },
  };
}

/** The survey of each row: the one of its lateral and day and, where both say it, of its direction. */
function surveyOfEach(
  table: Table,
  { table: surveys, first }: Pick<InspectionsRead, "table" | "first">,
  problems: ProblemList,
) {
  const found = new GrowingNumbers();
  const lateralOf = numbersOf(table, LATERAL_ROW);
  const dayOf = numbersOf(table, "inspected_on");
  const surveyDays = numbersOf(surveys, "inspected_on");
  const lost = new Map<string, { readonly row: number; readonly several: boolean; count: number }>();
  for (let row = 0; row < table.rows; row++) {
    const lateral = lateralOf[row] ?? Number.NaN;
    const direction = textAt(table, "direction", row);
    const candidates: number[] = [];
    for (let at = first[lateral] ?? 0; at < (first[lateral + 1] ?? 0); at++)
      if (surveyDays[at] === dayOf[row] && agree(direction, textAt(surveys, "direction", at)))
        candidates.push(at);
    const [only] = candidates;
    if (only !== undefined && candidates.length === 1) {
      found.push(only);
      continue;
    }
    found.push(Number.NaN);
    const key = `${textAt(table, "lateral", row)} of ${isoDate(day(dayOf[row] ?? Number.NaN))}`;
    const met = lost.get(key);
    if (met !== undefined) met.count++;
    else lost.set(key, { row: numberAt(table, FILE_ROW, row), several: candidates.length > 1, count: 1 });
  }
  for (const [key, { row, several, count }] of lost)
    problems.add(
      "noted",
      row,
      null,
      key,
      several ? "one survey that the observation is of" : "a survey of this lateral on this day",
      several
        ? `${showCount(count)} row(s), this the first, kept and not used: several surveys of that day fit. Give both files a "direction".`
        : `${showCount(count)} row(s), this the first, kept and not used: the inspection file has no such survey.`,
    );
  return found.finish();
}

const agree = (direction: string, ofSurvey: string): boolean =>
  direction === "" || ofSurvey === "" || direction === ofSurvey;

function noteReversed(table: Table, problems: ProblemList): void {
  const from = numbersOf(table, "from");
  const to = numbersOf(table, "to");
  for (let row = 0; row < table.rows; row++)
    if ((to[row] ?? Number.NaN) < (from[row] ?? Number.NaN))
      problems.add(
        "noted",
        numberAt(table, FILE_ROW, row),
        null,
        "an end before its beginning",
        "distances from where the survey started, the nearer one first",
        "The observation is taken to reach from the one to the other.",
      );
}

/** Nearest first; without a distance last. */
function byDistance(table: Table): (a: number, b: number) => number {
  const from = numbersOf(table, "from");
  const place = (row: number) => {
    const at = from[row] ?? Number.NaN;
    return Number.isNaN(at) ? Number.MAX_VALUE : at;
  };
  return (a, b) => place(a) - place(b);
}

/** The same order, rows of no survey put behind all others. Surveys are in order of lateral and day, as the rows are. */
function bySurvey(table: Table, rows: Uint32Array): Uint32Array {
  const surveyOf = numbersOf(table, INSPECTION_ROW);
  const survey = (row: number) => {
    const of = surveyOf[row] ?? Number.NaN;
    return Number.isNaN(of) ? Number.MAX_VALUE : of;
  };
  // Sorting is stable: within a survey the order stays.
  return Uint32Array.from(Array.from(rows).sort((a, b) => survey(a) - survey(b)));
}
