import { describe, expect, it } from "vitest";
import type { Column } from "../../../src/columns/column.ts";
import { dearerSaid } from "../../../src/commands/season-words.ts";
import type { PlannedProgram } from "../../../src/season/planned-program.ts";
import type { SeasonProblem } from "../../../src/season/selection/season-problem.ts";
import { totalSeason } from "../../../src/season/selection/season-totals.ts";
import { tableOf } from "../examples.ts";
import { seasonFromArrays } from "./season-from-arrays.ts";

const numbers = (...keys: string[]): Column[] =>
  keys.map((key) => ({ key, heading: key, measure: "money", stage: "season", help: key }));

/** An offer each of five laterals, in two districts: cents, and the cents of loss that it avoids. */
const works = [
  { cost: 10_000, loss_avoided: 9_999 },
  { cost: 20_000, loss_avoided: 20_000 },
  { cost: 30_000, loss_avoided: 50_000 },
  { cost: 40_000 },
  { cost: 50_000, loss_avoided: 1_000 },
];
const problem = seasonFromArrays({
  worth: works.map(() => 1),
  cost: works.map(({ cost }) => cost),
  minutes: works.map(() => 60),
  district: [0, 0, 1, 1, 1],
  money: 1_000_000,
  mobilization: [0, 0],
});
const season = {
  problem,
  held: [],
  districts: ["A", "B"],
  crews: ["lining"],
  offerRows: Uint32Array.from(works.keys()),
} as unknown as SeasonProblem;
const whole = {
  laterals: tableOf(
    numbers("present_loss", "infiltration"),
    works.map(() => ({ present_loss: 60_000 })),
  ),
  offers: tableOf(
    numbers("lateral_row", "chosen", "loss_avoided", "infiltration_removed"),
    works.map(({ loss_avoided }, lateral_row) => ({
      lateral_row,
      chosen: 1,
      ...(loss_avoided === undefined ? {} : { loss_avoided }),
    })),
  ),
} as unknown as PlannedProgram;
const style = { units: "us", currency: "USD" } as const;

describe("works that cost more than the loss they avoid", () => {
  const totals = totalSeason(whole, season, Int32Array.from([0, 1, 2, 3, 4]));

  it("are summed, by district and in all; what avoids as much as it costs, or nobody knows how much, is none of them", () => {
    expect(totals.program.dearer).toEqual({ laterals: 2, works: 60_000, lossAvoided: 10_999 });
    expect(totals.districts.map(({ dearer }) => dearer)).toEqual([
      { laterals: 1, works: 10_000, lossAvoided: 9_999 },
      { laterals: 1, works: 50_000, lossAvoided: 1_000 },
    ]);
    expect(totals.program.chosenWithoutLoss).toBe(1);
    const without = totalSeason(whole, season, Int32Array.from([-1, 1, 2, -1, -1])).program;
    expect(without.dearer).toEqual({ laterals: 0, works: 0, lossAvoided: 0 });
  });

  it("are said beside all that is selected, as the budget counts them", () => {
    expect(dearerSaid(totals.program, { pays: "whole cost", style })).toBe(
      "2 of the 5 works cost more than the loss they avoid (present worth): USD 600.00 of the USD 1,500.00, for USD 109.99 of loss avoided. The loss avoided by 1 of the works is not known.",
    );
    expect(dearerSaid(totals.program, { pays: "city share", style })).toContain(
      "2 of the 5 works cost, at the city's share, more than the loss they avoid",
    );
    const said = (chosen: readonly number[]) =>
      dearerSaid(totalSeason(whole, season, Int32Array.from(chosen)).program, { pays: "whole cost", style });
    expect(said([-1, 1, 2, -1, -1])).toBe(
      "Works that cost more than the loss they avoid (present worth): none of 2.",
    );
    expect(said([-1, 1, -1, 3, -1])).toBe(
      "Works that cost more than the loss they avoid (present worth): none of 2 that is known. The loss avoided by 1 of the works is not known.",
    );
    expect(said([-1, -1, -1, 3, -1])).toBe("What loss the works avoid is not known.");
    const nothing = totalSeason(whole, season, new Int32Array(5).fill(-1)).program;
    expect(dearerSaid(nothing, { pays: "whole cost", style })).toBeNull();
  });
});
