import { isoDate } from "../quantity/calendar.ts";
import type { Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { Day } from "../quantity/si.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { knownDay } from "../season/work-days.ts";
import { numbersOf, type Table } from "../sheet/table.ts";

/** Surveys of a later day than the plan's are there, but do not count: said, or somebody looks for them in vain. Null where none is. */
export function lateSurveysSaid({ inspections }: ProgramTables, asOf: string): string | null {
  const late = lateRows(inspections, knownDay(asOf)).length;
  return late === 0
    ? null
    : `${showCount(late)} survey(s) are of a day after ${asOf} and do not count until "as_of" in program.json is later`;
}

/** The same as a problem of the file that has them. @param heading of their days in the file */
export function lateSurveys(file: string, surveys: Table, heading: string, asOf: Day): Problem | null {
  const late = lateRows(surveys, asOf);
  if (late.length === 0) return null;
  const fileRows = numbersOf(surveys, "file_row");
  const first = late.reduce((least, row) => (fileRows[row]! < fileRows[least]! ? row : least));
  return {
    severity: "noted",
    file,
    row: fileRows[first]!,
    column: heading,
    found: isoDate(numbersOf(surveys, "inspected_on")[first]! as Day),
    expected: `a day up to ${isoDate(asOf)}, that of the plan`,
    remedy: `${showCount(late.length)} survey(s), this the first, are of a day after it and do not count until "as_of" in program.json is later.`,
  };
}

function lateRows(surveys: Table, asOf: Day): readonly number[] {
  const days = numbersOf(surveys, "inspected_on");
  const late: number[] = [];
  for (let row = 0; row < surveys.rows; row++) if (days[row]! > asOf) late.push(row);
  return late;
}
