import { describe, expect, it } from "vitest";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { cents } from "../../src/quantity/si.ts";
import type { BudgetPays } from "../../src/reference/season-days.ts";
import { houseUncertainty, type Uncertainty } from "../../src/reference/uncertainty.ts";
import {
  asBudgetCounts,
  countedTotal,
  moneySoFar,
  spendingAsCounted,
  undividedLaterals,
} from "../../src/season/budget-counts.ts";
import { lateralAt } from "../../src/season/lateral-at.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { workAsEntered, workSoFar, workWhenSaved } from "../../src/season/selection/held-laterals.ts";
import { seasonProblem } from "../../src/season/selection/season-problem.ts";
import { countOpenings, trackProgress } from "../../src/season/tracking.ts";
import { seasonUncertainty } from "../../src/season/uncertainty/season-uncertainty.ts";
import { numberAt, textAt, withColumns } from "../../src/sheet/table.ts";
import { on, usBasis } from "../plan/examples.ts";
import { decidedTo, lateralRow, programTables, type Row, surveyRow } from "./examples.ts";
import { seasonRules } from "./season-examples.ts";

/** A quarter of its length is the city's; of the rest the owner pays all. Signed, so that the work may be done. */
const quarter: Row = {
  lower_length: 3.048,
  upper_length: 9.144,
  lower_owner: "city",
  upper_owner: "private",
  city_share: 0,
  permission_signed: on("2026-01-05"),
  permission_expires: on("2027-01-05"),
};

/**
 * Full-length liners of USD 4,905: base 4,200 to 30 ft, 10 ft more at 70.50. Of A1 a quarter is the city's, A2 is the city's, and whose A3 is
 * nobody has stated.
 */
function planned(
  pays: BudgetPays,
  spent: Readonly<Record<string, Readonly<Record<string, number | string>>>> = {},
  uncertainty: Uncertainty = SURE,
) {
  const tables = programTables(
    [
      lateralRow("A1", quarter),
      lateralRow("A2", { lower_owner: "city", upper_owner: "city" }),
      lateralRow("A3", { district: "Mill Creek" }),
    ],
    ["A1", "A2", "A3"].map((id) => surveyRow(id, 4, 1, { structural_quick: "4332" })),
  );
  const decisions = decidedTo(spent);
  const basis = { ...usBasis, budgetPays: pays, uncertainty };
  return planProgram({ ...tables, decisions }, basis, { problems: [], tallies: [] });
}

const one = { least: 1, best: 1, most: 1 };
/** The house table with nothing uncertain. */
const SURE: Uncertainty = {
  ...houseUncertainty,
  draws: 400,
  time: { ...houseUncertainty.time, productivity: one, own: one },
  length: { ...houseUncertainty.length, bias: one, own: one },
  price: { ...houseUncertainty.price, market: one, ofClass: one },
  changes: { ...houseUncertainty.changes, together: one, on: {} },
};

const rules = seasonRules({ objective: { lossAvoided: 1, infiltrationRemoved: 0 } });

const WHOLE = 490_500;
/** A quarter of 4,200.00 and of 705.00. */
const QUARTER = 105_000 + 17_625;

/** An accepted A1 that cost 6,000.00, A2 begun for 1,000.00, A3 cleaned for 500.00. */
const SPENT = {
  A1: { status: "accepted", installed_cost: 600_000 },
  A2: { status: "measured", installed_cost: 100_000 },
  A3: { status: "cleaned", installed_cost: 50_000 },
};

describe("a budget that pays the city's share of cost", () => {
  it("leaves the owners' part out of a sum, and counts what nobody divided", () => {
    const sums = { cityCost: cents(300), ownerCost: cents(50), undivided: cents(7) };
    expect(countedTotal(sums, "city share")).toBe(307);
    expect(countedTotal(sums, "whole cost")).toBe(357);
  });

  it("counts of what was spent the share of what is planned, and all of it where nothing planned can tell the share", () => {
    const { laterals, basis } = planned("city share");
    // A quarter of A1; A2 is the city's; A3 is nobody's yet.
    const counted = spendingAsCounted({ laterals, basis });
    expect([0, 1, 2].map((row) => counted(row, 600_000))).toEqual([150_000, 600_000, 600_000]);
    const values = Float64Array.of(Number.NaN, 0, Number.NaN);
    const unpriced = withColumns(laterals, [["cost", { kind: "number", values }]]);
    const whole = spendingAsCounted({ laterals: unpriced, basis });
    expect([0, 1, 2].map((row) => whole(row, 600_000))).toEqual([600_000, 600_000, 600_000]);
  });

  it("counts the city's part of each offer, and the whole where that is not divided", () => {
    const program = planned("city share");
    const { problem, offerRows, planned: chosen } = seasonProblem(program, rules);
    expect(Array.from(chosen, (j) => problem.cost[j])).toEqual([QUARTER, WHOLE, WHOLE]);
    expect(undividedLaterals(program)).toBe(1);
    // Every offer, by the plan of its lateral alone.
    for (const [j, at] of offerRows.entries()) {
      const treatment = textAt(program.offers, "treatment", at);
      const lateral = lateralAt(program.tables, numberAt(program.offers, "lateral_row", at));
      const { split, cost } = planLateral(lateral, program.basis).offers.find(
        (each) => each.treatment === treatment,
      )!;
      expect(problem.cost[j], treatment).toBe(split.kind === "split" ? split.city : cost.total);
    }
  });

  it("counts the share of the lateral's plan of what is spent, by hand, and the whole where that is not divided", () => {
    const program = planned("city share", SPENT);
    const { held, begun } = workSoFar(program);
    // 6,000.00 · 0.25; all of A2 is the city's, and A3 is not divided.
    expect(held.map(({ spent }) => spent)).toEqual([150_000]);
    expect(begun.map(({ spent }) => spent)).toEqual([100_000, 50_000]);
    const { problem, planned: chosen, spent } = seasonProblem(program, rules, workSoFar(program));
    expect(spent).toBe(300_000);
    expect(problem.money).toBe(rules.budget - 300_000);
    expect([problem.cost[chosen[1]!], problem.cost[chosen[2]!]]).toEqual([WHOLE - 100_000, WHOLE - 50_000]);
    const whole = trackProgress(program).program;
    expect(whole).toMatchObject({ spent: 750_000, stillToSpend: 2 * WHOLE - 150_000 });
    const season = { budget: 1_000_000, mobilization: 40_000 };
    // Work has begun in both districts.
    expect(moneySoFar(program, season)).toEqual({
      spent: 300_000,
      stillToSpend: 2 * WHOLE - 150_000,
      opened: { districts: 2, cost: 80_000 },
      toOpen: { districts: 0, cost: 0 },
      budget: { whole: 1_000_000, left: 1_000_000 - 300_000 - 80_000 },
    });
    expect(moneySoFar(program, { ...season, budget: 370_000 }).budget?.left).toBe(-10_000);
    expect(moneySoFar(program, { ...season, budget: null }).budget).toBeNull();
  });

  it("counts its share of the whole that a saved season keeps as spent, whatever that season's budget counted", () => {
    const saved = [
      { lateral: "A1", standing: "done", spent: 600_000 },
      { lateral: "A2", standing: "begun", spent: 100_000 },
      { lateral: "A3", standing: "refused", spent: 50_000 },
    ] as const;
    const spentIn = ({ held, begun }: ReturnType<typeof workSoFar>) =>
      [...held, ...begun].map(({ lateral, spent }) => [lateral, spent]);
    expect(spentIn(workWhenSaved(planned("city share"), saved))).toEqual([
      [0, 150_000],
      [2, 50_000],
      [1, 100_000],
    ]);
    const whole = [
      [0, 600_000],
      [2, 50_000],
      [1, 100_000],
    ];
    expect(spentIn(workWhenSaved(planned("whole cost"), saved))).toEqual(whole);
    // What is to be saved is whole under either budget.
    const spent = { ...SPENT, A3: { status: "refused", installed_cost: 50_000 } };
    for (const pays of ["city share", "whole cost"] as const)
      expect(spentIn(workAsEntered(planned(pays, spent)))).toEqual(whole);
  });

  it("has work begun, and its district opened, where no cent of what was spent is the city's", () => {
    for (const status of ["permitted", "refused"]) {
      const owners = { lower_owner: "private", status, installed_cost: 100_000 };
      const program = planned("city share", { A1: owners });
      const { held, begun } = workSoFar(program);
      expect([...held, ...begun].map(({ lateral, spent }) => [lateral, spent])).toEqual([[0, 0]]);
      const { opening } = seasonProblem(
        program,
        { ...rules, mobilization: 400_000 },
        { held, begun, withoutCost: 0 },
      );
      expect(opening).toEqual({ spent: 400_000, districts: 1 });
      expect(countOpenings(trackProgress(program).districts)).toEqual({ opened: 1, toOpen: 1 });
      expect(seasonUncertainty(program).left.begun, status).toBe(status === "refused" ? 0 : 1);
    }
  });

  it("takes of a lateral done whose cost nobody entered the city's part of the plan", () => {
    const program = planned("city share", { A1: { status: "lined" } });
    expect(workSoFar(program).held.map(({ spent }) => spent)).toEqual([QUARTER]);
  });

  it("draws of each lateral the same share as of its plan, whatever it turns out to cost", () => {
    const work = { A1: { status: "measured", installed_cost: 100_000 } };
    const sure = seasonUncertainty(planned("city share", work));
    expect(sure.program.cost.p90).toBeCloseTo(QUARTER + 2 * WHOLE, 4);
    expect(sure.program.cost.planned).toBe(QUARTER + 2 * WHOLE);
    expect(sure.notes[0]).toContain("Costs are the city's share");
    // Ten feet more or less: 705.00 of each lateral are paid by length beyond 30 ft; of A1 a quarter of it.
    const longer = { least: 1.25, best: 1.25, most: 1.25 };
    const change = { ...SURE, length: { ...SURE.length, bias: longer } };
    const found = seasonUncertainty(planned("city share", {}, change));
    expect(found.program.cost.p50).toBeCloseTo(QUARTER + 17_625 + 2 * (WHOLE + 70_500), 4);
  });

  it("counts the same as one of whole costs where nobody else pays, and that one changes nothing", () => {
    const program = planned("whole cost", SPENT);
    expect(asBudgetCounts(program)).toBe(program);
    expect(program.offers.columns.has("city_cost")).toBe(false);
    expect(workSoFar(program).held.map(({ spent }) => spent)).toEqual([600_000]);
    const { problem, planned: chosen } = seasonProblem(planned("whole cost"), rules);
    expect(Array.from(chosen, (j) => problem.cost[j])).toEqual([WHOLE, WHOLE, WHOLE]);
    const counted = asBudgetCounts(planned("city share", SPENT));
    const again = asBudgetCounts(counted);
    for (const key of ["cost", "installed_cost"])
      expect(again.laterals.columns.get(key)).toEqual(counted.laterals.columns.get(key));
  });
});
