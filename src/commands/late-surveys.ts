import { isoDate } from "../quantity/calendar.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { Day } from "../quantity/si.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { numberAt } from "../sheet/table.ts";

/** Surveys of a later day than the plan's are there, but do not count: said, or somebody looks for them in vain. Null where none is. */
export function lateSurveysSaid({ inspections }: ProgramTables, asOf: string): string | null {
  let late = 0;
  for (let row = 0; row < inspections.rows; row++)
    if (isoDate(numberAt(inspections, "inspected_on", row) as Day) > asOf) late++;
  return late === 0
    ? null
    : `${showCount(late)} survey(s) are of a day after ${asOf} and do not count until "as_of" in program.json is later`;
}
