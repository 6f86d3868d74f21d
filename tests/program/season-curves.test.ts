import { describe, expect, it } from "vitest";
import { curveText, type NewCurve, readCurveText } from "../../src/program/season-curves.ts";
import { describeProblem } from "../../src/quantity/problem.ts";

const inputs = "ab".repeat(32);
const curve: NewCurve = {
  saved: { when: "2026-03-01T08:00:00Z", who: "R. Ames" },
  as_of: "2026-03-01",
  currency: "USD",
  season: { budget: 350_000, objective: "loss avoided" },
  objective: { loss_avoided: 1, infiltration_removed: 0 },
  vary: { of: "budget", crew: null },
  points: [
    { amount: 100_000, worth: null, gap: null, inputs },
    { amount: 200_000, worth: 65_235_998, gap: 0.026, inputs },
    { amount: 300_000, worth: 81_619_581, gap: 0.05, inputs },
  ],
};
const said = (text: string): string => {
  const reading = readCurveText(text, "curves/x.json");
  return reading.ok ? "taken" : reading.problems.map(describeProblem).join("\n");
};
/** A file written with other values, and sealed as if it were ours. */
const saying = (changes: object): string => said(curveText({ ...curve, ...changes } as NewCurve));

describe("a saved curve", () => {
  it("is read as it was written", () => {
    const reading = readCurveText(curveText(curve), "curves/x.json");
    expect(reading.ok && reading.run).toMatchObject(curve);
  });

  it("that somebody changed is found out, and one that is cut short or of another kind is refused", () => {
    const text = curveText(curve);
    expect(said(text.replace("65235998", "75235998"))).toContain(
      "values that were changed after it was saved",
    );
    expect(said(text.slice(0, -20))).toContain("expected a curve in JSON");
    expect(said('{"schema":1,"chosen":[]}')).toContain("expected a curve of this version");
    expect(said("")).toContain("curves/x.json");
  });

  it("holds only amounts that can be shown, rising, each with a gap where it has a worth", () => {
    const point = curve.points[1]!;
    expect(saying({})).toBe("taken");
    expect(saying({ points: [point, point] })).toContain("amounts that rise");
    expect(saying({ points: [{ ...point, amount: -1 }] })).toContain("amounts of what is varied");
    expect(saying({ points: [{ ...point, amount: 1e300 }] })).toContain("amounts of what is varied");
    expect(
      saying({ vary: { of: "season", crew: null }, points: [{ ...point, amount: 20_000.5 }] }),
    ).toContain("amounts of what is varied");
    expect(saying({ points: [{ ...point, gap: null }] })).toContain("a gap where there is a worth");
    expect(saying({ vary: { of: "crews", crew: null } })).toContain("a kind of crew");
    expect(saying({ points: [] })).toContain("points");
    expect(saying({ objective: { loss_avoided: 0, infiltration_removed: 0 } })).toContain("an objective");
  });
});
