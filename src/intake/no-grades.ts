import type { InspectionFile } from "../columns/city-file.ts";
import { inspectionColumns } from "../columns/lateral-columns.ts";
import { fileProblem, type Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { numberAt, numbersOf, type Table } from "../sheet/table.ts";
import { otherKey } from "./row-columns.ts";
import { LATERAL_ROW } from "./survey-rows.ts";

/** Columns of an inspection that say how bad a pipe is, as a grade or as a quick rating of several. */
const GRADING = inspectionColumns.map(({ key }) => key).filter((key) => /_(grade|quick)$/.test(key));

const hasGrades = ({ columns }: Pick<InspectionFile, "columns">): boolean =>
  GRADING.some((key) => columns[key] !== undefined);

/**
 * The problem of surveys of which no grade can be made: they say of no lateral how bad it is. Null where a column of the inspections has
 * grades, or every survey has an observation with one.
 *
 * @param surveys of the file, and how many of them have graded observations
 * @param unused headings of the file that no column of ours stands under
 */
export function noGrades(
  file: Pick<InspectionFile, "file" | "columns">,
  surveys: { readonly count: number; readonly graded: number },
  unused: readonly string[],
): Problem | null {
  const { count, graded } = surveys;
  if (hasGrades(file) || (graded > 0 && graded === count)) return null;
  const found =
    graded === 0
      ? "no column of grades"
      : `no column of grades, and ${showCount(count - graded)} of ${showCount(count)} surveys without graded observations`;
  const problem = fileProblem(
    file.file,
    found,
    "structural_grade and om_grade under some heading, or their quick ratings",
    `What these surveys saw is not known: none of them leads over an older one with grades, and a lateral without such a one is inspected first. Write under the file's "columns" in program.json such as "structural_grade": { "heading": "…" }.${unused.length === 0 ? "" : ` Headings not used: ${unused.join(", ")}.`}`,
  );
  return graded === 0 ? problem : { ...problem, severity: "noted" };
}

/** The surveys of a file, and how many of them have an observation with a grade; of a file that has grades itself nobody asks. */
export function countGraded(
  file: Pick<InspectionFile, "columns">,
  ownSurveys: Table,
  surveys: Table,
  seen: ObservationsOfSurveys | null,
): { readonly count: number; readonly graded: number } {
  const count = ownSurveys.rows;
  if (seen === null || hasGrades(file)) return { count, graded: 0 };
  const grades = numbersOf(seen.table, "grade");
  const gradedDays = new Set<string>();
  for (let row = 0; row < surveys.rows; row++)
    if (grades.subarray(seen.first[row], seen.first[row + 1]).some((grade) => !Number.isNaN(grade)))
      gradedDays.add(dayOf(surveys, row));
  let graded = 0;
  for (let row = 0; row < count; row++) if (gradedDays.has(dayOf(ownSurveys, row))) graded++;
  return { count, graded };
}

/** Observations by survey: those of survey row r are rows `first[r]` up to, not including, `first[r + 1]`. */
interface ObservationsOfSurveys {
  readonly table: Table;
  readonly first: Uint32Array;
}

/** Surveys of one lateral on one day share their observations' file, so they are told apart no further. */
const dayOf = (surveys: Table, row: number): string =>
  `${numberAt(surveys, LATERAL_ROW, row)} ${numberAt(surveys, "inspected_on", row)}`;

/** Headings of a file read that no column of ours stands under. */
export function otherHeadings({ columns }: Pick<Table, "columns">): readonly string[] {
  const start = otherKey("");
  return [...columns.keys()].filter((key) => key.startsWith(start)).map((key) => key.slice(start.length));
}
