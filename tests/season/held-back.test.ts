import { describe, expect, it } from "vitest";
import { workToBid } from "../../src/season/bid-work.ts";
import { noticesOf } from "../../src/season/notices.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { planSeason } from "../../src/season/season-calendar.ts";
import { withSeason } from "../../src/season/season-place.ts";
import { programOfSeason } from "../../src/season/season-program.ts";
import { workSoFar, workWhenSaved } from "../../src/season/selection/held-laterals.ts";
import { seasonProblem } from "../../src/season/selection/season-problem.ts";
import { judgeOffers, offerFates } from "../../src/season/selection/usable-offers.ts";
import { heldBackIn, heldBackRows, heldRows, standingAt, trackProgress } from "../../src/season/tracking.ts";
import { textAt } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { decidedTo, lateralRow, programTables, type Row, surveyRow } from "./examples.ts";
import { seasonCalendar, seasonRules } from "./season-examples.ts";

const BORED = { cross_bore: "found" };

/** Two laterals that need lining and one that is left, whatever else is decided of them. */
function planned(decided: Readonly<Record<string, Row>>) {
  const tables = programTables(
    ["A1", "A2", "A3"].map((id) => lateralRow(id)),
    [
      surveyRow("A1", 4, 1, { structural_quick: "4332" }),
      surveyRow("A2", 4, 1, { structural_quick: "4332" }),
      surveyRow("A3", 1),
    ],
  );
  const basis = { ...usBasis, calendar: seasonCalendar() };
  return planProgram({ ...tables, decisions: decidedTo(decided) }, basis, { problems: [], tallies: [] });
}
const standing = (decided: Row) => standingAt(planned({ A1: decided }).laterals, 0);

const INSPECTION = "camera inspection";
const inspections = (lines: ReadonlyMap<string, number>) =>
  [...lines].reduce(
    (sum, [line, hundredths]) => sum + (line.startsWith(INSPECTION) ? hundredths / 100 : 0),
    0,
  );

describe("a lateral with a cross-bore that was found", () => {
  it("is held back until that is recorded as made safe, work begun or not; what is done or refused sends nobody", () => {
    expect(standing(BORED)).toBe("held back");
    expect(standing({ ...BORED, status: "permitted" })).toBe("held back");
    expect(standing({ ...BORED, status: "cleaned" })).toBe("held back");
    expect(standing({ ...BORED, installed_cost: 10_000 })).toBe("held back");
    expect(standing({ ...BORED, status: "lined" })).toBe("done");
    expect(standing({ ...BORED, status: "refused" })).toBe("refused");
    for (const state of ["made safe", "not cleared", "cleared"])
      expect(standing({ cross_bore: state })).toBe("to do");
    const program = planned({ A1: BORED, A3: BORED });
    expect(heldBackRows(program.laterals)).toEqual([0, 2]);
    expect(heldBackIn(program)).toEqual(["A1", "A3"]);
    expect(heldBackIn(planned({}))).toEqual([]);
  });

  it("has no offer that a season could take, nor has one that is to follow it; must_do alone stays, and clashes", () => {
    const program = planned({ A1: BORED });
    const rules = seasonRules({ mustDo: ["A1"], onlyAfter: { A2: ["A1"] } });
    const { problem, plannedWork } = seasonProblem(program, rules, workSoFar(program));
    const fates = (l: number) =>
      Array.from(judgeOffers(problem).subarray(problem.firstOffer[l], problem.firstOffer[l + 1])).map(
        (fate) => offerFates[fate],
      );
    // The camera's visit is planned, and would be a choice.
    expect(textAt(program.laterals, "treatment", 0)).toBe("inspect first");
    expect(plannedWork[0]).toBeGreaterThanOrEqual(0);
    expect(new Set([...fates(0), ...fates(1)])).toEqual(new Set(["must not"]));
    expect([...problem.must]).toEqual([1, 0, 0]);
    expect([...problem.mustNot]).toEqual([1, 1, 0]);
  });

  it("keeps what was spent on it gone from the budget, and its district opened", () => {
    const program = planned({ A1: { ...BORED, status: "cleaned", installed_cost: 12_300 } });
    const rules = seasonRules({ budget: 1_000_000, mobilization: 50_000 });
    const { problem, spent, begun, held } = seasonProblem(program, rules, workSoFar(program));
    expect(begun).toEqual([]);
    expect(held).toMatchObject([{ lateral: 0, standing: "held back", spent: 12_300, minutes: [0, 0, 0, 0] }]);
    expect(spent).toBe(12_300 + 50_000);
    expect(problem.money).toBe(1_000_000 - 12_300 - 50_000);
    expect(problem.mobilization[problem.district[0]!]).toBe(0);
  });

  it("has no day, no notice and no line in the bid; what is made safe has, for its inspection alone", () => {
    const visited = (decided: Row) => {
      const program = planned({ A1: decided });
      const season = planSeason(program)!;
      const notices = noticesOf(program)!;
      return {
        visits: season.work
          .flatMap(({ crews }) => crews.flatMap(({ days }) => days.flatMap(({ rows }) => rows)))
          .filter((row) => row === 0).length,
        told: notices.visits.filter(({ lateral }) => lateral === "A1").length,
        heldBack: [season.heldBack, notices.heldBack],
        bid: inspections(workToBid(program).totals.program.bidLines),
        treatment: textAt(program.laterals, "treatment", 0),
      };
    };
    expect(visited(BORED)).toEqual({
      visits: 0,
      told: 0,
      heldBack: [["A1"], ["A1"]],
      bid: 0,
      treatment: "inspect first",
    });
    expect(visited({ cross_bore: "made safe" })).toEqual({
      visits: 1,
      told: 1,
      heldBack: [[], []],
      bid: 1,
      treatment: "inspect first",
    });
  });

  it("is inspected when it is made safe whatever its grades, and nothing is cut or lined there before it is cleared", () => {
    const program = planned({ A1: { cross_bore: "made safe" }, A3: { cross_bore: "made safe" } });
    const { offers } = program;
    const offered = Array.from({ length: offers.rows }, (_, at) => textAt(offers, "treatment", at));
    expect([0, 2].map((row) => textAt(program.laterals, "treatment", row))).toEqual([
      "inspect first",
      "inspect first",
    ]);
    // Of the three laterals A2 alone, which is cleared, may be lined.
    expect(offered.filter((treatment) => treatment === "full-length liner")).toHaveLength(1);
  });

  it("counts apart in progress: nothing of it is still planned, and opens no district", () => {
    const [before, after] = [{}, { A1: BORED }].map((decided) => trackProgress(planned(decided)).program);
    expect(before!.byStanding).toMatchObject({ "to do": 2, "held back": 0 });
    expect(after!.byStanding).toMatchObject({ "to do": 1, "held back": 1 });
    expect(after!.stillToSpend).toBe(before!.stillToSpend / 2);
    expect(after!.noWork).toBe(1);
  });
});

describe("a season that was saved before the cross-bore was found", () => {
  const chosen = ["A1", "A2"].map((lateral) => ({ lateral, treatment: "full-length liner", cost: 490_500 }));
  const inspected = [{ lateral: "A1", treatment: "inspect first", cost: 35_000 }, chosen[1]!];

  it("is planned, dated and bid without it, and that is a problem that is said", () => {
    const whole = planned({ A1: BORED });
    for (const of of [chosen, inspected]) {
      const { program, problems } = programOfSeason(whole, "spring", of);
      expect(
        Array.from({ length: program.laterals.rows }, (_, row) => textAt(program.laterals, "lateral", row)),
      ).toEqual(["A2"]);
      expect(problems).toMatchObject([{ found: "A1", file: "runs/spring.json" }]);
      expect(problems[0]!.remedy).toContain('cross_bore "made safe"');
      expect(planSeason(program)!.heldBack).toEqual(["A1"]);
    }
  });

  it("has it out in its columns, with the reason", () => {
    const saved = { name: "spring", chosen: inspected, reasons: new Map([["A1", "must be done" as const]]) };
    const { laterals, season } = withSeason(planned({ A1: BORED }), saved, {
      name: "spring",
      isFilled: true,
      said: "",
    });
    expect(textAt(laterals, "season_reason", 0)).toBe("cross-bore not made safe");
    expect(textAt(laterals, "season_treatment", 0)).toBe("");
    expect(season?.dates.visits.map(({ lateral }) => lateral)).not.toContain("A1");
  });

  it("does not choose it beside the ranked cut, were its work begun when it was saved", () => {
    const whole = planned({ A1: BORED });
    const { held, begun } = workWhenSaved(whole, [{ lateral: "A1", standing: "begun", spent: 700 }]);
    expect(begun).toEqual([]);
    expect(held).toMatchObject([{ lateral: 0, standing: "held back", spent: 700 }]);
    expect(workWhenSaved(whole, []).held).toMatchObject([{ lateral: 0, standing: "held back", spent: 0 }]);
    expect(heldRows(whole)).toMatchObject([{ id: "A1", status: "", reason: "cross-bore not made safe" }]);
  });
});
