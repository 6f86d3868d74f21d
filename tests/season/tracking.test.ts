import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { workStatuses } from "../../src/columns/plan-columns.ts";
import { readDecision } from "../../src/program/decision-value.ts";
import { describeProblem } from "../../src/quantity/problem.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { workSoFar } from "../../src/season/selection/held-laterals.ts";
import { seasonProblem } from "../../src/season/selection/season-problem.ts";
import { sumChosen } from "../../src/season/selection/selection-problem.ts";
import { countOpenings, heldRows, trackProgress } from "../../src/season/tracking.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { decidedTo, lateralRow, programTables, surveyRow } from "./examples.ts";
import { seasonRules } from "./season-examples.ts";

type Tracked = Readonly<Record<string, Readonly<Record<string, number | string>>>>;

/** Three full-length liners of USD 4,905 (base 4,200 and 10 ft at 70.50) in two districts, and one lateral that is left. */
function planTracked(tracked: Tracked) {
  const tables = programTables(
    [
      lateralRow("A1"),
      lateralRow("A2", { district: "Mill Creek" }),
      lateralRow("A3", { district: "Mill Creek" }),
      lateralRow("A4"),
    ],
    [
      surveyRow("A1", 4, 1, { structural_quick: "4332" }),
      surveyRow("A2", 4, 1, { structural_quick: "4332" }),
      surveyRow("A3", 4, 1, { structural_quick: "4332" }),
      surveyRow("A4", 1),
    ],
  );
  const decisions = decidedTo(tracked);
  return planProgram({ ...tables, decisions }, usBasis, { problems: [], tallies: [] });
}

const PLANNED = 490_500;

const SEASON = seasonRules({ objective: { lossAvoided: 1, infiltrationRemoved: 0 }, mobilization: 400_000 });

describe("what replanning holds fixed", () => {
  it("is every lateral that is done, at what it cost, or as planned where nobody entered it", () => {
    const program = planTracked({
      A1: { status: "accepted", installed_cost: 512_345 },
      A2: { status: "lined" },
      A3: { status: "measured", installed_cost: 20_000 },
    });
    expect(numberAt(program.laterals, "cost", 0)).toBe(PLANNED);
    expect(
      heldRows(program).map(({ id, standing, cost, costIsPlanned }) => [id, standing, cost, costIsPlanned]),
    ).toEqual([
      ["A1", "done", 512_345, false],
      ["A2", "done", PLANNED, true],
    ]);
  });

  it("is every refused lateral, with the reason and only what was spent on it", () => {
    const [held, ...rest] = heldRows(planTracked({ A3: { status: "refused", installed_cost: 7_000 } }));
    expect(rest).toEqual([]);
    expect(heldRows(planTracked({ A3: { status: "refused" } }))[0]?.cost).toBeNull();
    expect(held).toMatchObject({ id: "A3", standing: "refused", reason: "site diary", cost: 7_000 });
  });
});

describe("progress", () => {
  it("adds up by hand: spent, still planned, crew-days and laterals", () => {
    const program = planTracked({
      A1: { status: "accepted", installed_cost: 512_345, installed_length: 12.25 },
      A2: { status: "lined" },
      A3: { status: "measured", installed_cost: 20_000 },
    });
    const { districts, program: all } = trackProgress(program);
    expect(all.byStanding).toEqual({ "to do": 0, "under way": 1, "held back": 0, done: 2, refused: 0 });
    expect(all.noWork).toBe(1);
    // 5,123.45 + 4,905 as planned + 200 so far.
    expect(all.spent).toBe(512_345 + PLANNED + 20_000);
    expect(all.spentAsPlanned).toBe(PLANNED);
    expect(all.stillToSpend).toBe(PLANNED - 20_000);
    // Measured: its preparation is over, the lining is left.
    expect(all.crewMinutesLeft).toBe(numberAt(program.materials, "visit_minutes:lining", 2));
    expect(all.installedMillimetres).toBe(12_250);
    expect(districts.map(({ district, spent }) => [district, spent])).toEqual([
      ["LS-14", 512_345],
      ["Mill Creek", PLANNED + 20_000],
    ]);
  });

  it("counts as under way the laterals that a season counts as begun: a crew has been there, or money is spent", () => {
    const program = planTracked({
      A1: { status: "permitted", installed_cost: 100_000 },
      A2: { status: "cleaned" },
      A3: { installed_cost: 5_000 },
      A4: { status: "permitted" },
    });
    expect(trackProgress(program).program.byStanding).toMatchObject({ "to do": 1, "under way": 3 });
    expect(workSoFar(program).begun).toMatchObject([
      { lateral: 0, spent: 100_000 },
      { lateral: 1, spent: 0 },
      { lateral: 2, spent: 5_000 },
    ]);
  });

  it("counts a district as opened where a crew was, were it for preparation only, and as still to open where only that is left", () => {
    // LS-14 has A1 and one that is left, Mill Creek the other two.
    const openings = (tracked: Tracked) => countOpenings(trackProgress(planTracked(tracked)).districts);
    expect(openings({})).toEqual({ opened: 0, toOpen: 2 });
    expect(openings({ A1: { status: "cleaned" } })).toEqual({ opened: 1, toOpen: 1 });
    expect(openings({ A1: { status: "permitted" }, A2: { status: "lined" } })).toEqual({
      opened: 1,
      toOpen: 1,
    });
    expect(openings({ A1: { status: "refused" } })).toEqual({ opened: 0, toOpen: 1 });
    // Cleaned for 300, then refused: the crews had come.
    for (const status of ["cleaned", "refused"])
      expect(openings({ A1: { status, installed_cost: 30_000 } }), status).toEqual({ opened: 1, toOpen: 1 });
    const toInspect = planProgram(programTables([lateralRow("A1")], []), usBasis, {
      problems: [],
      tallies: [],
    });
    expect(textAt(toInspect.laterals, "treatment", 0)).toBe("inspect first");
    expect(countOpenings(trackProgress(toInspect).districts)).toEqual({ opened: 0, toOpen: 1 });
  });

  it("and the season open the same districts, whatever is recorded, and the season pays once for each", () => {
    const record = fc.record(
      { status: fc.constantFrom(...workStatuses), installed_cost: fc.constantFrom(0, 30_000) },
      { requiredKeys: [] },
    );
    fc.assert(
      fc.property(fc.array(record, { minLength: 4, maxLength: 4 }), (records) => {
        const program = planTracked(
          Object.fromEntries(
            records.map((each, i) => [
              `A${i + 1}`,
              Object.fromEntries(Object.entries(each).filter(([, value]) => value !== undefined)),
            ]),
          ),
        );
        const { opened } = countOpenings(trackProgress(program).districts);
        const { problem, opening, spent } = seasonProblem(program, SEASON, workSoFar(program));
        expect(opening).toEqual({ spent: opened * SEASON.mobilization, districts: opened });
        expect(spent - opening.spent).toBe(trackProgress(program).program.spent);
        expect(problem.money).toBe(SEASON.budget - spent);
        // What is left to choose opens the others only.
        expect(problem.mobilization.filter((each) => each > 0)).toHaveLength(problem.districts - opened);
      }),
      { numRuns: 60, seed: 11 },
    );
  });

  it("is charged for by a season that has only preparation left in a district", () => {
    const tables = programTables([lateralRow("A1")], [surveyRow("A1", 2, 4)]);
    const program = planProgram(tables, usBasis, { problems: [], tallies: [] });
    const { problem, planned } = seasonProblem(program, SEASON, workSoFar(program));
    const roots = planned[0]!;
    expect(textAt(program.laterals, "treatment", 0)).toBe("clean and cut roots");
    expect(problem.minutes.map((each) => each[roots]! > 0)).toEqual([true, false, false, false]);
    expect(sumChosen(problem, Int32Array.of(roots)).mobilization).toBe(SEASON.mobilization);
  });

  it("of a refused lateral leaves nothing to spend but keeps what was spent", () => {
    const { program } = trackProgress(planTracked({ A1: { status: "refused", installed_cost: 30_000 } }));
    expect(program.spent).toBe(30_000);
    expect(program.stillToSpend).toBe(2 * PLANNED);
    expect(program.byStanding.refused).toBe(1);
  });

  it("accounts for every lateral once, and districts add up to the program, whatever is recorded", () => {
    const status = fc.constantFrom(...workStatuses);
    const record = fc.record({
      status,
      installed_cost: fc.integer({ min: 0, max: 9_000_000 }),
      installed_length: fc.integer({ min: 0, max: 150_000 }).map((mm) => mm / 1000),
    });
    const ids = fc.subarray(["A1", "A2", "A3", "A4"]);
    fc.assert(
      fc.property(ids, fc.array(record, { minLength: 4, maxLength: 4 }), (which, records) => {
        const { districts, program } = trackProgress(
          planTracked(Object.fromEntries(which.map((id, i) => [id, records[i]!]))),
        );
        const { byStanding } = program;
        expect(Object.values(byStanding).reduce((a, b) => a + b, program.noWork)).toBe(4);
        for (const key of [
          "laterals",
          "spent",
          "spentAsPlanned",
          "stillToSpend",
          "crewMinutesLeft",
          "installedMillimetres",
          "unpriced",
          "noWork",
        ] as const)
          expect(districts.reduce((sum, own) => sum + own[key], 0)).toBe(program[key]);
      }),
      { numRuns: 40 },
    );
  });
});

describe("a status, its day and what was spent", () => {
  const decide = (column: string, value: string) => {
    const reading = readDecision({ lateral: "A1", column, value, reason: "site diary" });
    return reading.ok ? reading.decided.value : reading.problems.map(describeProblem).join("\n");
  };

  it("are decided like everything else, and refused when they cannot be read", () => {
    expect(decide("status", "Accepted")).toBe("accepted");
    expect(decide("status", "acepted")).toContain('Write "accepted".');
    // 2026-07-01 is 20635 days after 1970-01-01: 56 years with 14 leap days, 56·365 + 14 + 181.
    expect(decide("status_on", "2026-07-01")).toBe(56 * 365 + 14 + 181);
    expect(decide("status_on", "1 July")).toContain("a day such as 2026-03-01");
    expect(decide("installed_cost", "4905.50")).toBe(490_550);
    expect(decide("installed_cost", "4905.505")).toContain("at most two decimals");
    expect(decide("installed_cost", "4905 EUR")).toContain("the program's currency");
    expect(decide("installed_length", "40.2 ft")).toBeCloseTo(12.25296, 9); // 40.2 × 0.3048, exact
  });
});
