import { describe, expect, it } from "vitest";
import { loadProgram } from "../../src/commands/load-program.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { type ChosenLateral, programOfSeason } from "../../src/season/season-program.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";

const sample = new URL("../../sample-programs/quennock-falls", import.meta.url).pathname;
const loaded = await loadProgram(sample);
if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
const whole = loaded.program;

/** Every fifth lateral by its last offer, mostly not the plan's own choice; without the one where a cross-bore was found. */
function chooseSome(): ChosenLateral[] {
  const { laterals, offers } = whole;
  const last = new Map<number, ChosenLateral>();
  for (let at = 0; at < offers.rows; at++) {
    const row = numberAt(offers, "lateral_row", at);
    if (row % 5 === 0 && textAt(laterals, "cross_bore", row) !== "found")
      last.set(row, {
        lateral: textAt(laterals, "lateral", row),
        treatment: textAt(offers, "treatment", at),
        cost: numberAt(offers, "cost", at),
      });
  }
  return [...last.values()].filter(({ cost }) => !Number.isNaN(cost));
}

describe("the plan of a season", () => {
  const chosen = chooseSome();
  const season = programOfSeason(whole, "spring", chosen);
  const { laterals } = season.program;
  const rows = Array.from({ length: laterals.rows }, (_, row) => row);

  it("has the season's laterals, each with the treatment it was given, at the cost of that offer", () => {
    expect(season.problems).toEqual([]);
    expect(season.moved).toEqual([]);
    const found = rows.map((row) => ({
      lateral: textAt(laterals, "lateral", row),
      treatment: textAt(laterals, "treatment", row),
      cost: numberAt(laterals, "cost", row),
    }));
    expect(found).toEqual(chosen);
    expect(season.program.totals.program.cost).toBe(chosen.reduce((sum, { cost }) => sum + cost, 0));
  });

  it("is what a plan of the whole under the same decisions says of these laterals, ranks and records included", () => {
    const decisions = new Map(
      chosen.map(({ lateral, treatment }) => [
        lateral,
        new Map([["treatment", { value: treatment, reason: "selected for season spring" }]]),
      ]),
    );
    const other = planProgram({ ...whole.tables, decisions }, whole.basis, { problems: [], tallies: [] });
    const rowOf = new Map(
      Array.from({ length: other.laterals.rows }, (_, row) => [textAt(other.laterals, "lateral", row), row]),
    );
    for (const row of rows) {
      const there = rowOf.get(textAt(laterals, "lateral", row))!;
      for (const [key, column] of laterals.columns) {
        // Worked out for the planning book only.
        if (key === "stays_selected") continue;
        if (column.kind === "number")
          expect(numberAt(laterals, key, row)).toBe(numberAt(other.laterals, key, there));
        else expect(textAt(laterals, key, row)).toBe(textAt(other.laterals, key, there));
      }
    }
  });

  it("never drops in silence what the program no longer has or allows, and says whose cost moved", () => {
    const [first, second, third] = chosen as [ChosenLateral, ChosenLateral, ChosenLateral];
    const { program, problems, moved } = programOfSeason(whole, "old", [
      { ...first, lateral: "no such" },
      { ...second, treatment: "no such work" },
      { ...third, cost: third.cost + 100 },
    ]);
    expect(problems.map(({ file, found }) => [file, found])).toEqual([
      ["runs/old.json", "no such"],
      ["runs/old.json", "no such work"],
    ]);
    expect(problems[1]?.expected).toBe(`a treatment that lateral ${second.lateral} may still have`);
    expect(program.problems).toEqual(expect.arrayContaining([...problems]));
    expect(program.laterals.rows).toBe(1);
    expect(moved).toEqual([{ lateral: third.lateral, was: third.cost + 100, now: third.cost }]);
  });

  it("keeps what was seen in the surveys of its laterals", () => {
    const { tables } = season.program;
    const seen = (of: typeof tables, row: number) =>
      [...Array(of.firstInspection[row + 1]! - of.firstInspection[row]!).keys()].map((i) => {
        const survey = of.firstInspection[row]! + i;
        const { first, table } = of.observations!;
        return Array.from({ length: first[survey + 1]! - first[survey]! }, (_, at) =>
          textAt(table, "kind", first[survey]! + at),
        );
      });
    let observed = 0;
    for (const row of rows) {
      const own = seen(tables, row);
      expect(own).toEqual(seen(whole.tables, row * 5 + offsetOf(row)));
      observed += own.flat().length;
    }
    expect(observed).toBeGreaterThan(0);
  });

  /** Laterals without a priced offer are not among the chosen, so rows may lag behind every fifth. */
  function offsetOf(row: number): number {
    const id = textAt(laterals, "lateral", row);
    for (let at = row * 5; at < whole.laterals.rows; at += 5)
      if (textAt(whole.laterals, "lateral", at) === id) return at - row * 5;
    throw new Error(id);
  }
});
