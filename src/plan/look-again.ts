import type { Day } from "../quantity/si.ts";
import type { TreatmentRules } from "../reference/treatment-rules.ts";
import type { Condition } from "./condition.ts";

/** When a lateral that is left is to be looked at again: so many years after its survey, by its worst grade. */
export function lookAgain(
  { structural, om, connection, leading }: Condition,
  { reinspectAfterYears }: TreatmentRules,
): { readonly grade: number; readonly years: number; readonly seen: Day } {
  const grade = Math.max(structural?.value ?? 0, om?.value ?? 0, connection?.value ?? 0);
  const years = reinspectAfterYears.byGrade[grade];
  if (years === undefined || leading === null)
    throw new RangeError(`lookAgain: a lateral left in grade ${grade} without a survey`);
  return { grade, years, seen: leading.on };
}
