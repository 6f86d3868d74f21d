import type { InspectionFile, ObservationFile } from "../columns/city-file.ts";
import { inspectionColumns } from "../columns/lateral-columns.ts";
import { fileProblem, type Problem } from "../quantity/problem.ts";
import type { Table } from "../sheet/table.ts";
import { otherKey } from "./row-columns.ts";

/** Columns of an inspection that say how bad a pipe is, as a grade or as a quick rating of several. */
const GRADING = inspectionColumns.map(({ key }) => key).filter((key) => /_(grade|quick)$/.test(key));

/**
 * The problem of surveys that say of no lateral how bad it is: without it said, every lateral would silently be "inspect first". Null
 * where a column of the inspections, or of their observations, has grades.
 *
 * @param unused headings of the file that no column of ours stands under
 */
export function noGrades(
  { file, columns }: Pick<InspectionFile, "file" | "columns">,
  observations: Pick<ObservationFile, "columns"> | null,
  unused: readonly string[],
): Problem | null {
  if (GRADING.some((key) => columns[key] !== undefined) || observations?.columns.grade !== undefined)
    return null;
  return fileProblem(
    file,
    "no column of grades",
    "structural_grade and om_grade under some heading, or their quick ratings",
    `What these surveys saw is not known: their laterals are inspected first. Write under inspections, columns in program.json such as "structural_grade": { "heading": "…" }.${unused.length === 0 ? "" : ` Headings not used: ${unused.join(", ")}.`}`,
  );
}

/** Headings of a file read that no column of ours stands under. */
export function otherHeadings({ columns }: Pick<Table, "columns">): readonly string[] {
  const start = otherKey("");
  return [...columns.keys()].filter((key) => key.startsWith(start)).map((key) => key.slice(start.length));
}
