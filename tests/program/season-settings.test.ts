import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { basisForSettings } from "../../src/program/basis-for-settings.ts";
import { seasonOf } from "../../src/program/season-settings.ts";
import { readSettingsText } from "../../src/program/settings.ts";

const sample = JSON.parse(
  readFileSync(new URL("../../sample-programs/quennock-falls/program.json", import.meta.url), "utf8"),
);
const read = (season: unknown) =>
  readSettingsText(new TextEncoder().encode(JSON.stringify({ ...sample, season }, null, 2)));
const faultsOf = (season: unknown) => {
  const reading = read(season);
  return reading.ok ? [] : reading.problems.map(({ column, expected }) => `${column}: ${expected}`);
};

describe("the season of program.json", () => {
  it("is read in cents and parts; what is not written limits nothing", () => {
    const reading = read({
      budget: 1000.5,
      reserve: "10 %",
      objective: { loss_avoided: 2, infiltration_removed: 1 },
      districts: { "LS-03": { least_money: 20.25 } },
    });
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    const season = seasonOf(reading.settings)!;
    expect(season).toMatchObject({
      budget: 100_050,
      reserve: 0.1,
      objective: { lossAvoided: 2, infiltrationRemoved: 1 },
      crewDays: {},
      mobilization: 0,
    });
    expect(basisForSettings(reading.settings).budgetPays).toBe("whole cost");
    expect(season.districts["LS-03"]).toEqual({
      leastLaterals: 0,
      mostLaterals: Infinity,
      leastMoney: 2025,
      mostMoney: Infinity,
    });
  });

  it("refuses unknown keys, half a season, impossible amounts and rules against each other", () => {
    expect(faultsOf({ budget: 1, objective: "loss avoided", budgets: 2 })[0]).toContain("season.budgets");
    expect(faultsOf({ reserve: 0.1 })).toEqual([
      "season.budget: the season's budget, which its other rules need: an amount of money such as 1500000, in the program's currency",
      `season.objective: the season's objective, which its other rules need: "loss avoided", "infiltration removed", or a mix such as { "loss_avoided": 0.7, "infiltration_removed": 0.3 }`,
    ]);
    const whole = { budget: 100, objective: "loss avoided" };
    expect(faultsOf({ ...whole, objective: "risk score" })[0]).toContain('"infiltration removed"');
    expect(faultsOf({ ...whole, budget_pays: "city share" })).toEqual([]);
    expect(faultsOf({ ...whole, budget_pays: "the city" })[0]).toContain('one of "whole cost", "city share"');
    expect(faultsOf({ ...whole, budget: -1 })[0]).toContain("season.budget");
    expect(faultsOf({ ...whole, reserve: 1 })[0]).toContain("a part from 0 to below 1");
    expect(faultsOf({ ...whole, crew_days: { lining: -3 } })[0]).toContain("crew-days of nothing or more");
    expect(faultsOf({ ...whole, crew_days: { linning: 3 } })[0]).toContain("season.crew_days.linning");
    expect(
      faultsOf({ ...whole, districts: { "LS-03": { least_laterals: 5, most_laterals: 4 } } })[0],
    ).toContain("no more than most_laterals, which is 4");
    expect(faultsOf({ ...whole, must_do: ["1"], must_not: ["1"] })[0]).toContain("season.must_do.0");
    const objective = (loss_avoided: number, infiltration_removed: number) =>
      faultsOf({ ...whole, objective: { loss_avoided, infiltration_removed } });
    for (const [loss, water] of [
      [0, 0],
      [-1, 2],
    ] as const)
      expect(objective(loss, water)[0]).toContain("weights of nothing or more, at least one of them above 0");
    expect(faultsOf({ ...whole, districts: { "LS-03": { least_laterals: -1 } } })[0]).toContain("0 or more");
    expect(faultsOf({ ...whole, districts: { "LS-03": { least_money: 4.01, most_money: 4 } } })[0]).toContain(
      "no more than most_money, which is 4",
    );
  });

  it("takes nothing for what it says: no crew-day, no reserve, no weight of one of two, least and most alike", () => {
    expect(
      faultsOf({
        budget: 100,
        objective: { loss_avoided: 1, infiltration_removed: 0 },
        reserve: 0,
        fair_share: 0,
        crew_days: { lining: 0 },
        districts: { "LS-03": { least_laterals: 0, most_laterals: 0, least_money: 5, most_money: 5 } },
      }),
    ).toEqual([]);
  });
});
