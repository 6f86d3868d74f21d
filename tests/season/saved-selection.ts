import type { SeasonRun } from "../../src/program/season-runs.ts";
import type { PlannedProgram } from "../../src/season/planned-program.ts";
import type { ChosenLateral } from "../../src/season/season-program.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";

/** Worked laterals of a program that are priced and may be scheduled, worst first, as a season would take them. */
export const worstWorked = ({ laterals, order }: PlannedProgram): readonly ChosenLateral[] =>
  [...order]
    .filter(
      (row) =>
        !["inspect first", "leave and re-inspect"].includes(textAt(laterals, "treatment", row)) &&
        numberAt(laterals, "may_be_scheduled", row) !== 0 &&
        !Number.isNaN(numberAt(laterals, "cost", row)),
    )
    .map((row) => ({
      lateral: textAt(laterals, "lateral", row),
      treatment: textAt(laterals, "treatment", row),
      cost: numberAt(laterals, "cost", row),
    }));

/** A season with these laterals, as `wyeplan season --save` keeps it. */
export const savedRun = (
  season: SeasonRun["season"],
  chosen: readonly ChosenLateral[],
  when = "2026-03-01T08:00:00Z",
): SeasonRun => ({
  schema: 1,
  saved: { when, who: "tester" },
  as_of: "2026-03-01",
  season,
  ended: "proven",
  worth: 1,
  bound: 1,
  gap: 0,
  works: 0,
  mobilization: 0,
  chosen: [...chosen],
});
