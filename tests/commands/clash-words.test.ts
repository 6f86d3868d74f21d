import { describe, expect, it } from "vitest";
import type { DecidedValue } from "../../src/columns/decided.ts";
import { clashText } from "../../src/commands/clash-words.ts";
import { viewOf } from "../../src/commands/season-view.ts";
import { describeBroken } from "../../src/commands/season-words.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { brokenRules } from "../../src/season/selection/broken-rules.ts";
import { findClash } from "../../src/season/selection/clash.ts";
import type { SeasonRules } from "../../src/season/selection/season-problem.ts";
import { loadSolver } from "../../src/workers/highs-solver.ts";
import { usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, surveyRow } from "../season/examples.ts";
import { seasonRules } from "../season/season-examples.ts";

const solver = await loadSolver();

/** Five full-length liners of USD 4,905 in Mill Creek and one in LS-14; M1 is done at 5,000, and 1,000 is spent on M2. */
function plan() {
  const mill = ["M1", "M2", "M3", "M4", "M5"];
  const decided = (values: Record<string, number | string>): ReadonlyMap<string, DecidedValue> =>
    new Map(Object.entries(values).map(([key, value]) => [key, { value, reason: "site diary" }]));
  const tables = programTables(
    [...mill.map((id) => lateralRow(id, { district: "Mill Creek" })), lateralRow("S1")],
    [...mill, "S1"].map((id) => surveyRow(id, 4, 1, { structural_quick: "4332" })),
  );
  const decisions = new Map([
    ["M1", decided({ status: "accepted", installed_cost: 500_000 })],
    ["M2", decided({ status: "permitted", installed_cost: 100_000 })],
  ]);
  return planProgram({ ...tables, decisions }, usBasis, { problems: [], tallies: [] });
}
const program = plan();

const limits = {
  leastLaterals: 0,
  mostLaterals: Number.POSITIVE_INFINITY,
  leastMoney: 0,
  mostMoney: Number.POSITIVE_INFINITY,
};
const clashOf = (rules: SeasonRules) => {
  const view = viewOf(program, rules);
  const clash = findClash(view.season.problem, solver);
  return clash === null ? null : clashText(clash, view).join("\n");
};

describe("a clash with work that is done", () => {
  it("names a district's laterals as they were written, and a change of what was written mends it", () => {
    const withMost = (mostLaterals: number) =>
      seasonRules({ districts: { "Mill Creek": { ...limits, mostLaterals } }, mustDo: ["M3", "M4", "M5"] });
    // One is done and three must be: four of at most three.
    expect(clashOf(withMost(3))).toContain("at most 3 laterals in Mill Creek (1 done)");
    expect(clashOf(withMost(3))).toContain("1 more than at most 3 laterals in Mill Creek (1 done)");
    expect(clashOf(withMost(4))).toBeNull();
    // With none allowed there is one too many already.
    expect(clashOf(withMost(0))).toContain("4 more than at most 0 laterals in Mill Creek (1 done)");
  });

  it("names a district's money as it was written, what is spent beside it, and by how much too little it is", () => {
    // 5,000 + 1,000 spent, and 3,905 still to be spent on M2: 9,905.
    const withMost = (mostMoney: number) =>
      seasonRules({ districts: { "Mill Creek": { ...limits, mostMoney } }, mustDo: ["M2"] });
    expect(clashOf(withMost(990_500))).toBeNull();
    expect(clashOf(withMost(990_400))).toContain(
      "USD 1.00 more than at most USD 9,904.00 of works in Mill Creek (USD 6,000.00 spent)",
    );
    expect(clashOf(withMost(200_000))).toContain(
      "USD 7,905.00 more than at most USD 2,000.00 of works in Mill Creek (USD 6,000.00 spent)",
    );
  });

  it("names the crew-days as they were written, and how many of them are done", () => {
    // A lateral takes 63 min of preparation (see the walkthrough): M1's are done, three more are 189 of the 177 that half a day leaves.
    const withDays = (preparation: number) =>
      seasonRules({ crewDays: { preparation }, mustDo: ["M3", "M4", "M5"] });
    expect(clashOf(withDays(0.5))).toContain("0.03 more to the 0.5 crew-days of preparation (0.1 done)");
    expect(clashOf(withDays(0.53))).toBeNull();
    // Of 48 min there were, 63 are gone already: 4 × 63 − 48.
    expect(clashOf(withDays(0.1))).toContain("0.43 more to the 0.1 crew-days of preparation (0.1 done)");
  });

  it("tells what the ranked cut lacks of a district's least as it was written", () => {
    const rules = seasonRules({
      districts: { "Mill Creek": { ...limits, leastLaterals: 3, leastMoney: 900_000 } },
    });
    const view = viewOf(program, rules);
    const { problem, planned } = view.season;
    const chosen = Int32Array.from(planned, (j, l) => (l === 2 ? j : -1));
    expect(brokenRules(problem, chosen).map((each) => describeBroken(each, view))).toEqual([
      "2 laterals in Mill Creek, not 3",
    ]);
    const none = new Int32Array(planned.length).fill(-1);
    expect(brokenRules(problem, none).map((each) => describeBroken(each, view))).toEqual([
      "1 laterals in Mill Creek, not 3",
      "USD 6,000.00 of works in Mill Creek, not USD 9,000.00",
    ]);
  });
});

describe("a clash with the fair share", () => {
  // Six laterals gain, five of them in Mill Creek: 0.9 of its 20,000 of 24,000 is 18,000.
  const withShare = (fairShare: number) =>
    seasonRules({
      budget: 2_400_000,
      districts: { "Mill Creek": { ...limits, mostLaterals: 3 } },
      fairShare,
    });

  it("names that rule, and the part to write in its place", () => {
    const said = clashOf(withShare(0.9))!;
    // 6,000 is spent, and two more liners of 4,905 are all that three laterals leave: 15,810, a part of 0.7905.
    expect(said).toContain(
      "USD 2,190.00 less than at least USD 18,000.00 of works in Mill Creek (USD 6,000.00 spent), which is its part by fair_share 0.9",
    );
    const part = Number(/write "fair_share": ([\d.]+)/.exec(said)![1]);
    expect(part).toBeCloseTo(0.7905, 4);
    expect(clashOf(withShare(part))).toBeNull();
    expect(clashOf(withShare(part + 0.0002))).not.toBeNull();
  });

  it("does not name it where the district's own least asks for as much", () => {
    const said = clashOf(
      seasonRules({ budget: 1_000_000, districts: { "LS-14": { ...limits, leastMoney: 600_000 } } }),
    )!;
    expect(said).toContain("at least USD 6,000.00 of works in LS-14\n");
    expect(said).not.toContain("fair_share");
  });
});
