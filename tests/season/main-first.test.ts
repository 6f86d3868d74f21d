import { rmSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { lateralColumns } from "../../src/columns/lateral-columns.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { seasonOfFolder } from "../../src/commands/season.ts";
import { readSeasonRun } from "../../src/program/season-runs.ts";
import { isoDate } from "../../src/quantity/calendar.ts";
import type { MainsLined } from "../../src/reference/season-days.ts";
import { houseSeasonDays } from "../../src/reference/season-days.ts";
import { planCalendar } from "../../src/season/calendar.ts";
import { idleMains, waitForMain } from "../../src/season/main-first.ts";
import type { PlannedProgram } from "../../src/season/planned-program.ts";
import { planSeason, schedulable } from "../../src/season/season-calendar.ts";
import { packedRuleOf } from "../../src/season/selection/season-packing.ts";
import { seasonProblem, strangersIn } from "../../src/season/selection/season-problem.ts";
import { selectPacked } from "../../src/season/selection/select-packed.ts";
import { knownDay } from "../../src/season/work-days.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { loadSolver } from "../../src/workers/highs-solver.ts";
import { recorded, sampleCopy, unread } from "../commands/sample-copy.ts";
import { tableOf } from "./examples.ts";
import { oneCrew, seasonCalendar, seasonRules } from "./season-examples.ts";
import { seasonFromArrays } from "./selection/season-from-arrays.ts";

const calendar = seasonCalendar({ ends: "2026-07-17", crews: { lining: oneCrew } });
/** No day lost, a day of mobilisation. */
const days = {
  ...houseSeasonDays,
  daysLost: { ...houseSeasonDays.daysLost, july: 0 },
  mobilisationDays: 1,
};

describe("main first", () => {
  const laterals = tableOf(lateralColumns, [
    { lateral: "A", district: "North", main_lining: "to be lined" },
    { lateral: "B", district: "North", main_lining: "lined" },
    { lateral: "C", district: "South", main_lining: "to be lined" },
    { lateral: "D", district: "South" },
  ]);
  const wait = (row: number, mainsLined: MainsLined, treatment = "full-length liner") =>
    waitForMain(laterals, row, treatment, { mainsLined, calendar });

  it("waits only where the list says that the main is to be lined, and an inspection never does", () => {
    const none = { laterals: {}, districts: {} };
    expect([0, 1, 2, 3].map((row) => wait(row, none).kind)).toEqual([
      "not this season",
      "free",
      "not this season",
      "free",
    ]);
    expect(wait(0, none, "inspect first").kind).toBe("free");
  });

  it("goes by the lateral's own day before its district's, and by the season's dates", () => {
    const given = { laterals: { A: "2026-07-10" }, districts: { North: null, South: "2026-07-14" } };
    expect(wait(0, given)).toEqual({ kind: "until", day: knownDay("2026-07-10") });
    expect(wait(2, given)).toEqual({ kind: "until", day: knownDay("2026-07-14") });
    expect(wait(0, { ...given, laterals: { A: "2026-07-06" } }).kind).toBe("free");
    expect(wait(0, { ...given, laterals: { A: "2026-07-20" } }).kind).toBe("not this season");
    expect(wait(0, { ...given, laterals: {} }).kind).toBe("not this season");
  });

  it("names laterals and districts of mains_lined where no main is to be lined, but none that the city does not have", () => {
    const idle = (mainsLined: MainsLined) => idleMains(laterals, { mainsLined });
    const districts = { North: "2026-07-10", South: null, East: null };
    // A's main is to be lined, so are one of the North's and one of the South's; B's is lined, of D's nothing is said.
    expect(idle({ laterals: { A: null, B: null, D: "2026-07-14", X: null }, districts })).toEqual([
      { kind: "lateral", name: "B", lining: "lined" },
      { kind: "lateral", name: "D", lining: "" },
    ]);
    const lined = tableOf(lateralColumns, [
      { lateral: "A", district: "North", main_lining: "lined" },
      { lateral: "C", district: "South", main_lining: "to be lined" },
    ]);
    expect(idleMains(lined, { mainsLined: { laterals: {}, districts } })).toEqual([
      { kind: "district", name: "North", lining: "" },
    ]);
    expect(idle({ laterals: {}, districts: {} })).toEqual([]);
  });

  it("keeps a district's crews away until the last of its mains is lined, and works the others first", () => {
    const work = (district: string, notBefore: string | null) => ({
      district,
      notBefore: notBefore === null ? null : knownDay(notBefore),
      crews: [
        {
          crew: "lining" as const,
          travel: 0 as never,
          byCoordinates: false,
          days: [{ rows: [0], days: 1 }],
          visits: 1,
          crewDays: 1,
          lowerBound: 1,
          exact: true,
          visitMinutes: 480,
          longVisits: [],
        },
      ],
    });
    const { districts } = planCalendar(
      [work("A", "2026-07-14"), work("B", null), work("C", "2026-07-08")],
      calendar,
      days,
      { times: 1, more: 0 },
    );
    // B mobilizes on Monday the 6th and works on the 7th; C from the 8th; A mobilizes on the 14th.
    expect(districts.map(({ district, finish }) => [district, isoDate(finish!)])).toEqual([
      ["B", "2026-07-07"],
      ["C", "2026-07-09"],
      ["A", "2026-07-15"],
    ]);
  });
});

describe("a season whose mains come first", () => {
  let program: PlannedProgram;
  const rules = seasonRules({
    budget: 35_000_000,
    reserve: 0.1,
    objective: { lossAvoided: 1, infiltrationRemoved: 0 },
    crewDays: { preparation: 30, lining: 35, dig: 6 },
    mobilization: 400_000,
  });
  beforeAll(async () => {
    const loaded = await loadProgram(
      new URL("../../sample-programs/quennock-falls", import.meta.url).pathname,
    );
    if (!loaded.ok) throw new Error("the sample does not load");
    const { rows, columns } = loaded.program.laterals;
    // Every main of LS-03 is to be lined.
    const main = tableOf(
      lateralColumns,
      Array.from({ length: rows }, (_, row) => ({
        main_lining: textAt(loaded.program.laterals, "district", row) === "LS-03" ? "to be lined" : "lined",
      })),
    ).columns.get("main_lining")!;
    program = {
      ...loaded.program,
      laterals: { rows, columns: new Map([...columns, ["main_lining", main]]) },
    };
  });
  const withMains = (districts: MainsLined["districts"]): PlannedProgram => ({
    ...program,
    basis: { ...program.basis, mainsLined: { laterals: {}, districts } },
  });
  const inDistrict = (given: PlannedProgram, rows: readonly number[]) =>
    rows.filter((row) => textAt(given.laterals, "district", row) === "LS-03");

  it("leaves out what follows a main that is not lined in it, and counts what it left out", () => {
    const given = withMains({ "LS-03": null });
    const { problem, leftOut, offerRows } = seasonProblem(given, rules);
    expect(leftOut.mainNotLined).toBeGreaterThan(0);
    const treatments = Array.from(offerRows).flatMap((row) =>
      textAt(given.laterals, "district", numberAt(given.offers, "lateral_row", row)) === "LS-03"
        ? [textAt(given.offers, "treatment", row)]
        : [],
    );
    expect(treatments.every((treatment) => treatment === "inspect first")).toBe(true);
    expect(problem.worth.length).toBe(offerRows.length);
    const scheduled = inDistrict(given, schedulable(given));
    expect(scheduled.every((row) => textAt(given.laterals, "treatment", row) === "inspect first")).toBe(true);
  });

  it("dates no work before its main in the calendar", () => {
    const given = withMains({ "LS-03": "2026-06-22" });
    const plan = planSeason(given)!;
    const span = plan.calendars.expected.districts.find(({ district }) => district === "LS-03")!;
    const days = span.crews.flatMap(({ mobilized, worked }) => [...mobilized, ...worked.keys()]);
    expect(days.length).toBeGreaterThan(0);
    for (const on of days) expect(on).toBeGreaterThanOrEqual(knownDay("2026-06-22"));
  });

  it("has the days in its packing by which a selection is judged", () => {
    const given = withMains({ "LS-03": "2026-06-22" });
    const { notBefore } = packedRuleOf(given, seasonProblem(given, rules), rules);
    const waiting = new Set(Array.from(notBefore).filter((on) => !Number.isNaN(on)));
    expect([...waiting]).toEqual([knownDay("2026-06-22")]);
  });

  it("names a district of mains_lined that the city does not have", () => {
    expect(strangersIn(withMains({ "LS-99": null }), rules).districts).toEqual([["mains_lined", "LS-99"]]);
  });
});

describe("a selection whose mains come late", () => {
  it("takes what can still be done before the season ends", async () => {
    // Two districts, one lateral each of a day's work and a day to mobilize; both fit from the 6th to the 17th. The dearer one waits for
    // the 17th: it could mobilize and not work.
    const problem = seasonFromArrays({
      worth: [9, 5],
      cost: [1, 1],
      minutes: [400, 400],
      district: [0, 1],
      money: 10,
      mobilization: [0, 0],
    });
    const whole = [Float64Array.from([400, 400])];
    const solver = await loadSolver();
    const select = (waits: number) =>
      selectPacked(
        problem,
        {
          crews: ["lining"],
          crewDays: [10],
          whole,
          handsOn: whole,
          shift: 480,
          sets: [1],
          drive: {
            betweenVisits: { averageMinutes: 10, parkMinutes: 5, detour: 1, kilometresPerHour: 30 },
            coordinateMetres: null,
          },
          x: new Float64Array(2),
          y: new Float64Array(2),
          mobilisationDays: 1,
          districtNames: ["A", "B"],
          notBefore: Float64Array.from([waits, Number.NaN]),
          done: [],
          dates: { calendar, table: days },
        },
        solver,
      );
    expect(select(knownDay("2026-07-17"))).toMatchObject({ ok: true, worth: 5 });
    // A day earlier there is time for both.
    expect(select(knownDay("2026-07-16"))).toMatchObject({ ok: true, worth: 14, ended: "proven" });
  });
});

describe("a bad connection whose main is to be lined, planned and selected", () => {
  const selected = async (mainsLined: object) => {
    const folder = sampleCopy("quennock-falls", (settings) => {
      settings.season.mains_lined = mainsLined;
    });
    const { io } = recorded();
    const one = { folder, lateral: "00217", column: "main_lining", value: "to be lined", reason: "a letter" };
    expect(await decideValue(one, io, unread)).toBe(0);
    await seasonOfFolder(folder, { save: "spring" }, io);
    const reading = await readSeasonRun(folder, "spring");
    rmSync(folder, { recursive: true });
    if (!reading.ok) throw new Error("the season was not saved");
    const { chosen, reasons } = reading.run;
    const reason = Object.entries(reasons ?? {}).find(([, ids]) => ids?.includes("00217"))?.[0];
    return { treatment: chosen.find(({ lateral }) => lateral === "00217")?.treatment, reason };
  };

  it("is in the season that gives its main a day, with the work on its connection", async () => {
    expect(await selected({ laterals: { "00217": "2026-05-04" } })).toEqual({
      treatment: "full-length and connection liner",
      reason: "worth what it takes",
    });
  });

  it("waits for its main in a season that gives none, and no camera is paid for meanwhile", async () => {
    expect(await selected({})).toEqual({ treatment: undefined, reason: "waits for its main" });
  });
});
