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
    ["as the sample is", false, () => {}],
    [
      "with formulas over columns that no total reads, the rank among them",
      true,
      (settings: { recipe: object }) => {
        settings.recipe = { ...settings.recipe, ...formulas };
      },
    ],
    [
      "with a score of its own, which some laterals lack",
      true,
      (settings: { recipe: object }) => {
        settings.recipe = { score: "backups" };
      },
    ],
  ] as const)(
    "is the same from a plan for totals as from a plan of everything: %s",
    async (_, isScored, change) => {
      const folder = sampleCopy(sample, change);
      const whole = await loadProgram(folder);
      const totals = await loadProgram(folder, undefined, "totals");
      const ranked = await loadProgram(folder, undefined, "ranked totals");
      if (!whole.ok || !totals.ok || !ranked.ok)
        throw new Error(
          JSON.stringify(
            [whole, totals, ranked].map((each) => (each.ok ? [] : each.problems)),
            null,
            1,
          ),
        );
      expect(totals.program.laterals.columns.size).toBeLessThan(whole.program.laterals.columns.size);
      expect(planText(totals.program)).toBe(planText(whole.program));
      for (const key of ["totals", "batches", "problems", "filters"] as const)
        expect(totals.program[key]).toEqual(whole.program[key]);
      expect(ranked.program.order).toEqual(whole.program.order);
      if (isScored) expect(totals.program.order).toEqual(whole.program.order);
      else expect(() => totals.program.order).toThrow("nobody ranks");
      for (const { column } of whole.program.basis.ownColumns)
        expect(totals.program.laterals.columns.get(column.key)).toEqual(
          whole.program.laterals.columns.get(column.key),
        );
    },
  );
});
