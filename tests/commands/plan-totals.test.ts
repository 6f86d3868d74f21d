import { describe, expect, it } from "vitest";
import { loadProgram } from "../../src/commands/load-program.ts";
import { planText } from "../../src/commands/plan.ts";
import { sampleCopy } from "./sample-copy.ts";

/** Formulas over columns that no total reads, the rank, the season and the leading survey among them. */
const formulas = {
  columns: {
    pull_twice: "pull * 2",
    far_down: "rank / 100",
    rounder: "1 - ovality",
    waits: "in_season and wall_second_opinion > wall",
  },
  filters: { "not surveyed": 'condition_state == "not inspected"', "far down": "far_down > 1" },
};

describe.each(["quennock-falls", "kaltwendel"])("the plan's page of %s", (sample) => {
  it.each([
    ["as the sample is", () => {}],
    [
      "with formulas over columns that no total reads",
      (settings: { recipe: object }) => {
        settings.recipe = { ...settings.recipe, ...formulas };
      },
    ],
  ] as const)("is the same from a plan for totals as from a plan of everything: %s", async (_, change) => {
    const folder = sampleCopy(sample, change);
    const [whole, totals] = [await loadProgram(folder), await loadProgram(folder, undefined, "totals")];
    if (!whole.ok || !totals.ok)
      throw new Error(
        JSON.stringify(
          [whole, totals].map((each) => (each.ok ? [] : each.problems)),
          null,
          1,
        ),
      );
    expect(totals.program.laterals.columns.size).toBeLessThan(whole.program.laterals.columns.size);
    expect(planText(totals.program)).toBe(planText(whole.program));
    for (const key of ["order", "totals", "batches", "problems", "filters"] as const)
      expect(totals.program[key]).toEqual(whole.program[key]);
    for (const { column } of whole.program.basis.ownColumns)
      expect(totals.program.laterals.columns.get(column.key)).toEqual(
        whole.program.laterals.columns.get(column.key),
      );
  });
});
