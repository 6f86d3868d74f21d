import { describe, expect, it } from "vitest";
import { planProgram } from "../../src/season/planned-program.ts";
import { pictureRisk } from "../../src/season/risk-picture.ts";
import { workSoFar } from "../../src/season/selection/held-laterals.ts";
import { seasonProblem } from "../../src/season/selection/season-problem.ts";
import { totalSeason } from "../../src/season/selection/season-totals.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { decidedTo, lateralRow, programTables, surveyRow } from "./examples.ts";
import { seasonRules } from "./season-examples.ts";

const ids = ["A1", "A2"];

/** Two full-length liners; `status` is that of A1. */
function planned(status: string | null) {
  const tables = programTables(
    ids.map((id) => lateralRow(id)),
    ids.map((id) => surveyRow(id, 4, 1, { structural_quick: "4332" })),
  );
  const decisions = decidedTo(status === null ? {} : { A1: { status } });
  return planProgram({ ...tables, decisions }, usBasis, { problems: [], tallies: [] });
}

const rules = seasonRules({ objective: { lossAvoided: 1, infiltrationRemoved: 0 } });

/** Sums of a season that takes what is planned for these laterals, with the work so far. */
function totalsOf(program: ReturnType<typeof planned>, chosen: readonly string[]) {
  const season = seasonProblem(program, rules, workSoFar(program));
  const offers = Int32Array.from(season.planned, (j, l) => (chosen.includes(ids[l]!) ? j : -1));
  return totalSeason(program, season, offers).program;
}

/** The plan's list of offers: what the work planned for a lateral spares over the horizon, and keeps out. */
function offerOf(program: ReturnType<typeof planned>, row: number, key: string): number {
  const { offers, laterals } = program;
  for (let at = 0; at < offers.rows; at++)
    if (
      numberAt(offers, "lateral_row", at) === row &&
      textAt(offers, "treatment", at) === textAt(laterals, "treatment", row)
    )
      return numberAt(offers, key, at);
  throw new Error("no offer");
}

describe("a lateral that is done", () => {
  it("leaves the city as well off as the season that chose it: what it spares is off the loss before, not off what is avoided", () => {
    const before = totalsOf(planned(null), ids);
    for (const status of ["lined", "accepted", "warranty check due"]) {
      const after = totalsOf(planned(status), ["A2"]);
      expect(after.lossBefore - after.lossAvoided, status).toBe(before.lossBefore - before.lossAvoided);
      expect(after.infiltrationBefore - after.infiltrationRemoved).toBe(
        before.infiltrationBefore - before.infiltrationRemoved,
      );
      expect(before.lossBefore - after.lossBefore).toBe(offerOf(planned(status), 0, "loss_avoided"));
    }
    const begun = totalsOf(planned("cleaned"), ids);
    expect(begun.lossBefore).toBe(before.lossBefore);
    expect(offerOf(planned(null), 0, "loss_avoided")).toBeGreaterThan(0);
  });

  it("counts in the city's risk as what its work leaves", () => {
    const [open, done] = [planned(null), planned("accepted")].map((program) => pictureRisk(program).money);
    expect(open!.done).toEqual({ laterals: 0, annualLoss: 0, presentLoss: 0 });
    expect(done!.done.laterals).toBe(1);
    expect(done!.presentLoss).toBeCloseTo(
      open!.presentLoss - offerOf(planned(null), 0, "loss_avoided"),
      // Half a cent: lists hold whole cents.
      0,
    );
    // The share of each mode that a full-length liner spares is below 1 and above 0 (shared/treatment-effects.json), so is that of all.
    const yearly = numberAt(planned(null).laterals, "expected_loss", 0);
    expect(done!.annualLoss).toBeLessThan(open!.annualLoss);
    expect(done!.annualLoss).toBeGreaterThan(open!.annualLoss - yearly);
    expect(done!.annualLoss + done!.done.annualLoss).toBeCloseTo(open!.annualLoss, 6);
  });
});
