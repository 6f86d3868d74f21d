import { describe, expect, it } from "vitest";
import type { TreatmentKind } from "../../src/columns/plan-columns.ts";
import type { Lateral } from "../../src/plan/lateral.ts";
import { mainDayOf, waitOf } from "../../src/plan/main-wait.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { describeReason } from "../../src/plan/reason.ts";
import type { MainsLined } from "../../src/reference/season-days.ts";
import { seasonCalendar } from "../season/season-examples.ts";
import { city, lateral, on, survey, usBasis } from "./examples.ts";

const bad: Partial<Lateral> = {
  mainLining: city("to be lined"),
  inspections: [survey({ connectionGrade: 4 })],
};
const none: MainsLined = { laterals: {}, districts: {} };

function planned(mainsLined: MainsLined, differs: Partial<Lateral> = bad) {
  const of = lateral({ id: "A", district: "North", ...differs });
  const { verdicts, choice } = planLateral(of, { ...usBasis, mainsLined });
  const allowed = (treatment: TreatmentKind) =>
    verdicts.all.find((each) => each.treatment === treatment)!.eligible;
  return {
    treatment: choice.treatment,
    said: choice.reasons.map((reason) => describeReason(reason, usBasis.program)).join("; "),
    allowed,
  };
}

describe("a connection whose main is to be lined", () => {
  it.each<[string, MainsLined]>([
    ["lateral", { laterals: { A: "2026-05-04" }, districts: { North: null } }],
    ["district", { laterals: {}, districts: { North: "2026-05-04" } }],
  ])("is planned where a day of its %s is given, and says from when", (_, mainsLined) => {
    const { treatment, said } = planned(mainsLined);
    expect(treatment).toBe("connection liner");
    expect(said).toContain("it may follow from 2026-05-04 (season.mains_lined)");
  });

  it.each<[string, MainsLined]>([
    ["no day", none],
    ["not this season", { laterals: { A: null }, districts: {} }],
  ])("with %s is planned to wait: another look at it would add nothing", (_, mainsLined) => {
    const { treatment, said, allowed } = planned(mainsLined);
    expect(treatment).toBe("connection liner");
    expect(allowed("inspect first")).toBe(false);
    expect(said).toContain("gives no day in this season: it waits for that");
  });

  it("is refused without a day where something else may be done, and looked at first where a rule asks for that", () => {
    const unclear = { ...bad, crossBore: null };
    expect(planned(none, unclear).treatment).toBe("inspect first");
    expect(planned(none, unclear).allowed("connection liner")).toBe(false);
    const never = { ...bad, inspections: [] };
    expect(planned({ laterals: { A: "2026-05-04" }, districts: {} }, never).treatment).toBe("inspect first");
  });

  it("never by a day after the calendar ends", () => {
    const main = { lateral: "A", district: "North", mainLining: "to be lined" };
    const given = { laterals: { A: "2026-11-02" }, districts: {} };
    const calendar = seasonCalendar({ starts: "2026-04-06" });
    expect(mainDayOf(main, { mainsLined: given, calendar })).toEqual({ kind: "not this season" });
    expect(mainDayOf(main, { mainsLined: given, calendar: null })).toEqual({
      kind: "from",
      day: on("2026-11-02"),
    });
    // A main lined before the season starts is waited for by nobody.
    const before = { laterals: { A: "2026-03-02" }, districts: {} };
    expect(waitOf(main, "connection liner", { mainsLined: before, calendar })).toEqual({ kind: "free" });
  });
});
