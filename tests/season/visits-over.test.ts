import { describe, expect, it } from "vitest";
import { dayFromIso } from "../../src/quantity/calendar.ts";
import { noticesOf } from "../../src/season/notices.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { planSeason } from "../../src/season/season-calendar.ts";
import { withSeason } from "../../src/season/season-place.ts";
import { programOfSeason } from "../../src/season/season-program.ts";
import { workSoFar } from "../../src/season/selection/held-laterals.ts";
import { excessOf, packChosen } from "../../src/season/selection/packed-rule.ts";
import { packedRuleOf } from "../../src/season/selection/season-packing.ts";
import { seasonProblem } from "../../src/season/selection/season-problem.ts";
import { numberAt } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { decidedTo, lateralRow, programTables, surveyRow } from "./examples.ts";
import { seasonCalendar, seasonRules } from "./season-examples.ts";

const calendar = seasonCalendar();

/** Two full-length liners, their preparation 63 min by hand (see the walkthrough), and one lateral that is to be inspected first. */
function planTracked(statuses: Readonly<Record<string, string>>) {
  const tables = programTables(
    [lateralRow("A1"), lateralRow("A2"), lateralRow("A3")],
    [
      surveyRow("A1", 4, 1, { structural_quick: "4332" }),
      surveyRow("A2", 4, 1, { structural_quick: "4332" }),
    ],
  );
  const decisions = decidedTo(
    Object.fromEntries(Object.entries(statuses).map(([id, status]) => [id, { status }])),
  );
  return planProgram({ ...tables, decisions }, { ...usBasis, calendar }, { problems: [], tallies: [] });
}

const rules = seasonRules({ crewDays: { preparation: 10, lining: 10 } });

const visitsOf = (plan: ReturnType<typeof planSeason>) =>
  Object.fromEntries(plan!.work.flatMap(({ crews }) => crews.map(({ crew, visits }) => [crew, visits])));

describe("a preparation visit that is over", () => {
  it("has no day in the calendar and no notice any more, the lining that follows has", () => {
    expect(visitsOf(planSeason(planTracked({})))).toEqual({ preparation: 3, lining: 2 });
    for (const status of ["cleaned", "measured"]) {
      const program = planTracked({ A1: status });
      expect(visitsOf(planSeason(program)), status).toEqual({ preparation: 2, lining: 2 });
      const told = noticesOf(program)!.visits.filter(({ lateral }) => lateral === "A1");
      expect(told.map(({ crew }) => crew)).toEqual(["lining"]);
    }
  });

  it("is not that of a lateral which is to be inspected first, and permitted is a paper", () => {
    expect(visitsOf(planSeason(planTracked({ A2: "permitted", A3: "cleaned" })))).toEqual({
      preparation: 3,
      lining: 2,
    });
  });

  it("keeps its day in a saved season, but nobody is told of it any more: notice is of the next visit", () => {
    const program = planTracked({ A1: "cleaned" });
    const chosen = ["A1", "A2"].map((lateral, row) => ({
      lateral,
      treatment: "full-length liner",
      cost: numberAt(program.laterals, "cost", row),
    }));
    const season = programOfSeason(program, "spring", chosen).program;
    expect(visitsOf(planSeason(season))).toEqual({ preparation: 2, lining: 2 });
    const told = noticesOf(season)!;
    expect(told.visits.map(({ lateral, crew }) => `${lateral} ${crew}`).sort()).toEqual([
      "A1 lining",
      "A2 lining",
      "A2 preparation",
    ]);
    expect(told.leftOut).toBe(1);
    const { laterals } = withSeason(
      program,
      { name: "spring", chosen, reasons: new Map() },
      { name: "spring", isFilled: true, said: "" },
    );
    const lining = told.visits.find(({ lateral, crew }) => lateral === "A1" && crew === "lining")!;
    // What comes next is the lining, and its notice comes before it.
    expect(numberAt(laterals, "season_visit", 0)).toBe(lining.on);
    expect(numberAt(laterals, "notice_by", 0)).toBe(lining.noticeBy);
    expect(lining.noticeBy).toBeLessThan(lining.on);
    // Both crews mobilize on their first day: Monday 6 July 2026 the preparation, which has cleaned by Tuesday.
    expect(lining.on).toBeGreaterThan(dayFromIso("2026-07-07")!);
  });

  it("has no day in a season that was selected after it, which says what it keeps of those that are over since", () => {
    const program = planTracked({ A1: "cleaned", A2: "cleaned" });
    const chosen = ["A1", "A2"].map((lateral, row) => ({
      lateral,
      treatment: "full-length liner",
      cost: numberAt(program.laterals, "cost", row),
    }));
    const soFar = [{ lateral: "A1", standing: "begun", spent: 0, visited: ["preparation"] }] as const;
    const plan = planSeason(programOfSeason(program, "spring", chosen, soFar).program)!;
    expect(visitsOf(plan)).toEqual({ preparation: 1, lining: 2 });
    expect(plan.keptOver).toBe(1);
    expect(planSeason(program)!.keptOver).toBe(0);
    // A status that was taken back since has its visit again.
    const open = planSeason(programOfSeason(planTracked({}), "spring", chosen, soFar).program)!;
    expect(visitsOf(open)).toEqual({ preparation: 2, lining: 2 });
  });

  it("takes its crew-days whether its lateral is chosen again or not, and takes them once", () => {
    const program = planTracked({ A1: "cleaned" });
    const fresh = planTracked({});
    const daysOf = (of: typeof program, chosen: readonly number[]) => {
      const season = seasonProblem(of, rules, workSoFar(of));
      const rule = packedRuleOf(of, season, rules, null);
      const days = packChosen(
        season.problem,
        rule,
        Int32Array.from(chosen, (isIn, l) => (isIn === 1 ? season.planned[l]! : -1)),
      );
      const preparation = days.work.flat().find(({ crew }) => crew === "preparation");
      return { visits: preparation?.visits ?? 0, packed: days.packed, excess: excessOf(rule, days) };
    };
    expect(daysOf(program, [1, 1, 0])).toEqual(daysOf(fresh, [1, 1, 0]));
    expect(daysOf(program, [0, 1, 0]).visits).toBe(2);
    expect(daysOf(fresh, [0, 1, 0]).visits).toBe(1);
    const { problem } = seasonProblem(program, rules, workSoFar(program));
    expect([problem.minutes[0]![0], problem.minutes[0]![problem.firstOffer[1]!]]).toEqual([0, 63]);
    expect(problem.crewMinutes[0]).toBe(10 * usBasis.steps.shiftMinutes - 63);
  });
});
