import { describe, expect, it } from "vitest";
import { forecastCity } from "../../src/season/city-forecast.ts";
import { clearWaterByDistrict } from "../../src/season/clear-water.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { drawsFor, selectionStability, withStability } from "../../src/season/selection-stability.ts";
import { numberAt } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, type Row, surveyRow } from "./examples.ts";

const plan = (laterals: readonly Row[], inspections: readonly Row[]) =>
  planProgram(programTables(laterals, inspections), usBasis, { problems: [], tallies: [] });

const laterals = ["A", "B", "C", "D", "E", "F"].map((id) => lateralRow(id));
const surveys = [
  surveyRow("A", 4, 1, { structural_quick: "4332" }),
  surveyRow("B", 2),
  surveyRow("C", 1),
  surveyRow("D", 0),
  surveyRow("E", 3),
];

describe("the forecast of a city", () => {
  it("starts from the seen grades with the others spread, and keeps their number for twenty years", () => {
    const { doNothing, asPlanned, notGraded, renewed } = forecastCity(plan(laterals, surveys));
    expect(notGraded).toBe(1);
    for (const { years } of [doNothing, asPlanned])
      for (const { expected } of years) expect(expected.reduce((a, b) => a + b, 0)).toBeCloseTo(6, 9);
    expect(renewed).toBeGreaterThan(0);
    expect(asPlanned.years[20]!.expected[4]! + asPlanned.years[20]!.expected[5]!).toBeLessThan(
      doNothing.years[20]!.expected[4]! + doNothing.years[20]!.expected[5]!,
    );
  });
});

describe("clear water", () => {
  it("shares the city's unit rate out over the laterals and changes no total", () => {
    const planned = plan(laterals, surveys);
    let sum = 0;
    for (let row = 0; row < 6; row++) sum += numberAt(planned.laterals, "infiltration", row);
    // 6 laterals of 4 in × 40 ft at 3,693 gpd per inch-diameter-mile (Haverhill MA 2011): 6 × 111.909 gpd.
    expect(sum).toBeCloseTo((6 * 111.909 * 3.785412) / 86_400, 6);
    const { before, removed } = clearWaterByDistrict(planned);
    expect(before[0]?.flow).toBeCloseTo(sum, 12);
    // Sealed 0.67 to 0.75, migration 0.6 to 0: from 0.67 × 0.4 to 0.75 of what leaked before.
    const [kept] = removed;
    expect(kept!.removed.least / kept!.before).toBeCloseTo(0.268, 9);
    expect(kept!.removed.most / kept!.before).toBeCloseTo(0.75, 9);
  });
});

describe("how sure the selection is", () => {
  it("keeps the first of a ranking that nothing else comes near, the same for the same seed", () => {
    // Likelihood 4 is drawn from 3.5 to 4.5, the next surveyed one, 3, from 2.5 to 3.5; building and surface are given and alike.
    const planned = plan(laterals, [...surveys, surveyRow("F", 2)]);
    const stability = selectionStability(planned, 100);
    expect(selectionStability(planned, 100)).toEqual(stability);
    expect(numberAt(planned.laterals, "rank", 0)).toBe(1);
    expect(stability.stays[0]).toBe(1);
    // D, grade 0, is last by far.
    expect(stability.stays[3]).toBe(0);
    expect(numberAt(withStability(planned, stability).laterals, "stays_selected", 0)).toBe(1);
    // As many as are above the cut are chosen in each world.
    expect(stability.stays.reduce((a, b) => a + b, 0)).toBeCloseTo(stability.cut, 9);
  });

  it("gives a lateral that nobody looked into its part of the worlds", () => {
    // F is 68 years old: likelihood 3, drawn from 2 to 4, so it passes A, drawn from 3.5 to 4.5, in a few worlds.
    const { stays } = selectionStability(plan(laterals, surveys), 200);
    expect(stays[5]).toBeGreaterThan(0);
    expect(stays[5]).toBeLessThan(0.1);
    expect(stays[0]! + stays[5]!).toBeCloseTo(1, 9);
  });

  it("draws 200 worlds up to 20,000 laterals and fewer above", () => {
    expect([drawsFor(1), drawsFor(20_000), drawsFor(40_000), drawsFor(1_000_000)]).toEqual([
      200, 200, 100, 20,
    ]);
  });
});
