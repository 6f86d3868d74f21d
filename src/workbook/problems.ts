import { describeProblem } from "../quantity/problem.ts";
import { type BookContents, capital } from "./book-contents.ts";
import { WHOLE } from "./number-format.ts";
import { columnLetter, sumBelow } from "./references.ts";
import { type Cell, firstRow, formula, type Row, type SheetModel } from "./sheet-model.ts";

/** Every row of the city's files accounted for: read = kept + duplicates + rejected. */
export function rowsReadSheet({ program }: BookContents): SheetModel {
  const notes = ["Rows read are rows kept, duplicates and rejected rows: the last column must be zero."];
  const first = firstRow(notes);
  const counts = ["read", "kept", "duplicates", "rejected"] as const;
  const total = (count: (typeof counts)[number]) =>
    program.tallies.reduce((sum, tally) => sum + tally[count], 0);
  const unaccounted = (row: number, of: (count: (typeof counts)[number]) => number): Cell =>
    formula(`B${row}-C${row}-D${row}-E${row}`, of("read") - of("kept") - of("duplicates") - of("rejected"));
  return {
    name: "Rows read",
    title: "Rows read",
    notes,
    columns: [
      { heading: "File", width: 40 },
      ...counts.map((count) => ({
        heading: capital(count),
        width: 12,
        format: WHOLE,
      })),
      { heading: "Unaccounted for", width: 14, format: WHOLE },
    ],
    rows: program.tallies.map(
      (tally, i): Row => [
        tally.file,
        ...counts.map((count) => tally[count]),
        unaccounted(first + i, (count) => tally[count]),
      ],
    ),
    foot: [
      [
        "All files",
        ...counts.map((count, i) =>
          sumBelow(columnLetter(i + 1), first, program.tallies.length, total(count)),
        ),
        unaccounted(first + program.tallies.length, total),
      ],
    ],
    frozenColumns: 0,
    pagesWide: 1,
    portrait: true,
    locked: false,
  };
}

/** What the city's files hold that could not be taken as it stands, with what to do about it. */
export function problemsSheet({ program }: BookContents): SheetModel {
  return {
    name: "Problems",
    title: "Problems in the city's files",
    notes: [
      program.problems.length === 0
        ? "None."
        : "Rejected: the row or cell is not used. Noted: it is used as the remedy says.",
    ],
    columns: [
      { heading: "Severity", width: 10 },
      { heading: "File", width: 22, wrap: true },
      { heading: "Row", width: 8, format: "0" },
      { heading: "Column", width: 18, wrap: true },
      { heading: "What, and what to do", width: 96, wrap: true },
    ],
    rows: program.problems.map(
      (problem): Row => [
        problem.severity,
        problem.file,
        problem.row,
        problem.column,
        describeProblem(problem),
      ],
    ),
    frozenColumns: 0,
    pagesWide: 1,
    locked: false,
    filtered: true,
  };
}
