import { expect, it } from "vitest";
import { explainPolicy, explainVerdicts } from "../../src/plan/explain-offers.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
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
    /failures left USD [\d,.]+ to USD [\d,.]+; keeps out [\d.]+ gpm to [\d.]+ gpm of clear water/,
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

it("says by what the plan chooses, what the runner-up would cost, and what is the least in the long run", () => {
  const planned = planLateral(
    lateral({ inspections: [survey({ structuralGrade: 4, structuralQuick: "4100" })] }),
    usBasis,
  );
  const said = (choose: "order" | "present worth") =>
    explainPolicy(planned, { ...usBasis, life: { ...usBasis.life, choose } }, usBasis.program).map(
      ({ label, value, note }) => ({ label, value, note }),
    );
  const worths = planned.offers
    .filter(({ treatment }) =>
      planned.verdicts.offered.some((each) => each.treatment === treatment && !each.againstRules),
    )
    .map(({ treatment, life, after }) => ({
      treatment,
      worth: (life.presentWorth ?? 0) + Math.round(after.money?.remaining.best ?? 0),
    }));
  const own = worths.find(({ treatment }) => treatment === planned.choice.own)!;
  const least = worths.toSorted((a, b) => a.worth - b.worth)[0]!;
  const lines = said("order");
  expect(lines[0]).toMatchObject({
    label: "chosen by",
    value: "the program's order of treatments: the first that is allowed",
  });
  expect(lines[1]).toMatchObject({ label: "runner-up", value: planned.choice.runnerUp?.treatment });
  const { more } = planned.choice.runnerUp!;
  expect(lines[1]?.note).toContain(more! < 0 ? " less over 50 years" : " more over 50 years");
  const isSaid = [planned.choice.own, planned.choice.runnerUp?.treatment].includes(least.treatment);
  expect(lines.slice(2).map(({ value }) => value)).toEqual(isSaid ? [] : [least.treatment]);
  expect(least.worth).toBeLessThanOrEqual(own.worth);
  expect(said("present worth")).toHaveLength(2);
});
