import { describe, expect, it } from "vitest";
import { prepareBasis } from "../../src/commands/prepare-basis.ts";
import type { Basis } from "../../src/reference/basis.ts";
import type { PreparedBasis } from "../../src/season/own-columns.ts";
import { type PlannedProgram, planProgram } from "../../src/season/planned-program.ts";
import { rescoreProgram } from "../../src/season/rescored-program.ts";
import { withoutSeason, withSeason } from "../../src/season/season-place.ts";
import type { ColumnData } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { inventedProgram } from "../screen/invented-program.ts";

const { risk, recipe } = usBasis;
/** Every kind of change that somebody can make in the recipe's pane, or as a column by formula. */
const changes: Readonly<Record<string, Partial<Pick<Basis, "recipe" | "risk">>>> = {
  usual: {},
  weights: {
    risk: { ...risk, consequence: { ...risk.consequence, weights: { building: 0.9, surface: 0.1 } } },
  },
  points: {
    risk: { ...risk, likelihood: { ...risk.likelihood, structural: [5, 5, 4, 3, 2, 1] } },
  },
  "own scores": {
    recipe: {
      ...recipe,
      likelihood: "if_missing(backups, 0) + 1",
      consequence: "host_length / 10 ft",
      score: "likelihood * consequence + 1",
    },
  },
  "scores that are missing": { recipe: { ...recipe, score: "likelihood / (structural_grade - 3)" } },
  "columns and filters": {
    recipe: {
      ...recipe,
      columns: { worry: "risk * backups", dear: "cost * 2", seen: "connection_grade + 1" },
      headings: { worry: "Worry" },
      filters: { long: "host_length > 40 ft", first: "rank < 10", old: "survey_complete and risk > 3" },
    },
  },
  "a column of the same name": {
    recipe: {
      ...recipe,
      columns: { worry: "risk / 2", late: "season_visit" },
      filters: { long: "worry > 3" },
    },
  },
};

const { tables, ...found } = inventedProgram(60);
const decisions = new Map([
  ["L-0003", new Map([["structural_grade", { value: 5, reason: "seen again" }]])],
  ["L-0007", new Map([["slope", { value: 0.02, reason: "levelled" }]])],
]);
async function basisOf(name: string): Promise<PreparedBasis> {
  const prepared = await prepareBasis({ ...usBasis, ...changes[name] });
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.faults));
  return prepared.basis;
}

/** Planned by each recipe, from nothing. */
const fresh = new Map<string, PlannedProgram>();
for (const name of Object.keys(changes))
  fresh.set(name, planProgram({ ...tables, decisions }, await basisOf(name), found));

const valuesOf = (column: ColumnData): unknown =>
  column.kind === "code" ? [...column.codes].map((code) => column.words[code]) : column;

/** All that is found out of a program, columns as their values. */
function plain({ basis, laterals, ...program }: PlannedProgram) {
  const columns = [...laterals.columns].map(([key, column]) => [key, valuesOf(column)] as const);
  return { ...program, fits: basis.fits, recipe: basis.recipe, laterals: new Map(columns) };
}

describe("rescoreProgram", () => {
  it.each(Object.keys(changes))("makes of a program by any recipe what a plan by %s is", async (name) => {
    const to = await basisOf(name);
    const expected = plain(fresh.get(name)!);
    for (const [before, program] of fresh)
      expect(plain(rescoreProgram(program, to)), before).toEqual(expected);
  });

  it("is tried with recipes that score differently, but for those that only add columns", () => {
    const scores = [...fresh.values()].map(({ laterals }) => JSON.stringify(laterals.columns.get("risk")));
    expect(new Set(scores).size).toBe(fresh.size - 2);
  });

  it("leaves the columns of a season empty, for whoever knows whether it still holds", async () => {
    const name = "a column of the same name";
    const to = await basisOf(name);
    const whole = fresh.get("columns and filters")!;
    const said = { name: "spring", isFilled: true, said: "of season spring" };
    const filled = withSeason(whole, { name: "spring", chosen: [], reasons: new Map() }, said);
    const empty = withoutSeason(whole, { ...said, isFilled: false });
    for (const program of [filled, empty])
      expect(plain(rescoreProgram(program, to))).toEqual(plain(fresh.get(name)!));
    expect(filled.laterals.columns.get("season_name")).not.toEqual(whole.laterals.columns.get("season_name"));
  });
});
