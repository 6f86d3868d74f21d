import { firstOf } from "./first-of.ts";

/**
 * Something in a user's file that the program cannot take as it stands: where it is, what was found, what was
 * expected, what to do. A problem is data; only {@link describeProblem} puts it into words.
 */
export interface Problem {
  /** `rejected`: the row or cell is not used. `noted`: it is used as said in the remedy. */
  readonly severity: "rejected" | "noted";
  /** File name as the program's settings give it; empty for what somebody typed. */
  readonly file: string;
  /** Row as a spreadsheet numbers it, counting from 1 and including heading lines (of JSON, the line); null when it is about the file. */
  readonly row: number | null;
  /** Column heading as the file writes it (of JSON, the key); null when it is about the row. */
  readonly column: string | null;
  /** Id of the lateral whose values, each of them right alone, contradict one another; absent for all else. */
  readonly lateral?: string;
  readonly found: string;
  readonly expected: string;
  readonly remedy: string;
}

/** A problem with a file as a whole, which is not used. */
export const fileProblem = (file: string, found: string, expected: string, remedy: string): Problem => ({
  severity: "rejected",
  file,
  row: null,
  column: null,
  found,
  expected,
  remedy,
});

/**
 * `laterals.csv, row 418, column "DIAM": found "100", expected 3 to 12 in. If this is millimetres, write "100 mm".`
 * A JSON file has lines and keys instead of rows and columns.
 */
export function describeProblem(problem: Problem): string {
  return describeInRows(problem, problem.row === null ? [] : [problem.row]);
}

/** The same problem of several rows, told once: `laterals.csv, rows 4, 9, 12 and 937 more, column "MAT": …`. */
export function describeInRows(problem: Omit<Problem, "row">, rows: readonly number[]): string {
  const json = problem.file.endsWith(".json");
  const place = [
    problem.file,
    rows.length === 0
      ? ""
      : `${json ? "line" : "row"}${rows.length > 1 ? "s" : ""} ${firstOf(rows, ROWS_SHOWN)}`,
    rows.length === 0 && problem.lateral !== undefined ? `lateral ${problem.lateral}` : "",
    problem.column === null ? "" : `${json ? "key" : "column"} "${problem.column}"`,
  ].filter((part) => part !== "");
  return `${place.join(", ")}: found ${quoted(problem.found)}, expected ${problem.expected}. ${problem.remedy}`;
}

const ROWS_SHOWN = 3;

const LONGEST_SHOWN = 60;

/** What was found, in quotes and not longer than a line of a window takes. */
export function quoted(found: string): string {
  const short = found.length > LONGEST_SHOWN ? `${found.slice(0, LONGEST_SHOWN)}…` : found;
  return short === "" ? "nothing" : JSON.stringify(short);
}
