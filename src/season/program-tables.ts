import type { Decisions } from "../columns/decided.ts";
import type { Table } from "../sheet/table.ts";

/** What was seen in the surveys, a row an observation. */
export interface ObservationTables {
  readonly table: Table;
  /** Observations of survey row r are rows `first[r]` up to `first[r + 1]`. */
  readonly first: Uint32Array;
}

/** What intake made of the city's files, with the standing decisions beside them. */
export interface ProgramTables {
  /** A row a lateral: the columns of columns/lateral-columns.ts, `other:<heading>` for the rest, `file_row`. */
  readonly laterals: Table;
  /** A row a survey, grouped by lateral and in order of date. */
  readonly inspections: Table;
  /** Surveys of lateral row r are rows `firstInspection[r]` up to `firstInspection[r + 1]`. */
  readonly firstInspection: Uint32Array;
  readonly decisions: Decisions;
  /** Absent when the program has no observation file. */
  readonly observations?: ObservationTables;
}
