import { describe, expect, it } from "vitest";
import { explainPolicy, explainVerdicts } from "../../src/plan/explain-offers.ts";
import { type PlannedLateral, planLateral } from "../../src/plan/plan-lateral.ts";
import { lateral, survey, usBasis } from "./examples.ts";

const linesOf = (differs: Parameters<typeof lateral>[0]) =>
  explainVerdicts(planLateral(lateral(differs), usBasis), usBasis, usBasis.program);

it("says of every treatment allowed its time, its life and how far its cost and what it leaves may be off", () => {
  const lines = linesOf({ inspections: [survey({ structuralGrade: 4, structuralQuick: "4100" })] });
  const liner = lines.find(({ label }) => label === "full-length liner")!;
  // 4,200 and 10 ft at 70.50 are 4,905.00; class 4 is −30 % to +50 %: 3,433.50 to 7,357.50.
  expect(liner.value).toContain("allowed, USD 4,905.00");
  expect(liner.note).toContain("cost USD 3,433.50 to USD 7,357.50 as a class 4 estimate");
  expect(liner.note).toMatch(/^crew \d+ min; life 50 years; /);
  expect(liner.note).toMatch(
    /failures left USD [\d,.]+ to USD [\d,.]+; keeps out [\d.,]+ gal\/day to [\d.,]+ gal\/day of clear water/,
  );
  const section = lines.find(({ label }) => label === "sectional liner")!;
  // 2,200.00: 1,540.00 to 3,300.00.
  expect(section.note).toContain("cost USD 1,540.00 to USD 3,300.00 as a class 4 estimate");
});

it("says nothing of what is not allowed, and of leaving the day to look again", () => {
  const lines = linesOf({ inspections: [survey({ structuralGrade: 2 })] });
  const noteOf = (treatment: string) => lines.find(({ label }) => label === treatment)!.note;
  expect(noteOf("full-length liner")).not.toContain("as a class");
  // Seen on 15 June 2025, grade 2: 7 years.
  expect(noteOf("leave and re-inspect")).toContain("by 2032-06-15");
  expect(noteOf("leave and re-inspect")).not.toContain("as a class");
});

describe("by what the plan chooses", () => {
  /** Dollars of work and renewals, and of the failures still expected; null where failures have no cost. */
  const offer = (treatment: string, work: number, failures: number | null) => ({
    treatment,
    life: { presentWorth: work * 100 },
    after: { money: failures === null ? null : { remaining: { best: failures * 100 } } },
  });
  const offers = (failures = true) => {
    const of = (dollars: number) => (failures ? dollars : null);
    return [
      offer("sectional liner", 1000, of(500)),
      offer("full-length liner", 2000, of(100)),
      offer("pipe bursting", 900, of(50)),
      offer("open-cut replacement", 400, of(10)),
    ];
  };
  const said = (
    choose: "order" | "present worth",
    choice: object,
    { allowed = ["sectional liner", "full-length liner", "pipe bursting"], of = offers() } = {},
  ) => {
    const planned = {
      choice: { by: "plan", own: "sectional liner", ...choice },
      offers: of,
      verdicts: {
        offered: of.map(({ treatment }) => ({ treatment, againstRules: !allowed.includes(treatment) })),
      },
    } as unknown as PlannedLateral;
    return explainPolicy(planned, { ...usBasis, life: { ...usBasis.life, choose } }, usBasis.program).map(
      ({ label, value, note }) => [label, value, note],
    );
  };
  const runnerUp = { treatment: "full-length liner", more: 600_00 };

  it("is the order, beside what the runner-up would cost and what would be the least of those allowed", () => {
    expect(said("order", { runnerUp })).toEqual([
      [
        "chosen by",
        "the program's order of treatments: the first that is allowed",
        expect.stringContaining("not by cost"),
      ],
      // 2,000 + 100 against 1,000 + 500; 900 + 50 against it.
      [
        "runner-up",
        "full-length liner",
        "would cost USD 600.00 more than sectional liner over 50 years, failures counted",
      ],
      [
        "least in the long run",
        "pipe bursting",
        "would cost USD 550.00 less than sectional liner over 50 years, failures counted",
      ],
    ]);
  });

  it("says what a decision was taken against, and not by what the decided treatment was chosen", () => {
    const [policy, next] = said("order", { by: "decision", treatment: "full-length liner", runnerUp });
    expect(policy![0]).toBe("the plan would choose by");
    expect(next![2]).toContain("more than sectional liner");
  });

  it("is still said in money where failures have no cost, and that they are not counted", () => {
    const lines = said("order", { runnerUp: { ...runnerUp, more: 1000_00 } }, { of: offers(false) });
    expect(lines.map(([, , note]) => note).slice(1)).toEqual([
      "would cost USD 1,000.00 more than sectional liner over 50 years, failures not counted",
      "would cost USD 100.00 less than sectional liner over 50 years, failures not counted",
    ]);
  });

  it("is the present worth where that is asked for and can be compared, else the order", () => {
    expect(said("present worth", { runnerUp }).map(([, value]) => value)).toEqual([
      "the least present worth of work, renewals and failures",
      "full-length liner",
    ]);
    const look = [offer("inspect first", 300, 900), ...offers()];
    expect(
      said(
        "present worth",
        { own: "inspect first", runnerUp: null },
        { of: look, allowed: ["inspect first", "sectional liner"] },
      ).map(([, value]) => value),
    ).toEqual([
      "the program's order: the present worth cannot be compared here",
      "none: nothing else is allowed",
    ]);
  });
});
