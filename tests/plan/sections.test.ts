import { describe, expect, it } from "vitest";
import type { Lateral, Observation } from "../../src/plan/lateral.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { describeReason } from "../../src/plan/reason.ts";
import { metres } from "../../src/quantity/si.ts";
import { convert } from "../../src/quantity/units.ts";
import { city, feet, lateral, observation, survey, usBasis } from "./examples.ts";

const ft = (n: number) => metres(convert(n, "ft", "m"));
const hole = (from: number, to: number | null = null, differs: Partial<Observation> = {}) =>
  observation({ from: ft(from), to: to === null ? null : ft(to), ...differs });
const bend = (at: number) => hole(at, null, { kind: "bend", mode: "inventory", grade: null });
const plan = (observations: readonly Observation[], differs: Partial<Lateral> = {}) =>
  planLateral(
    lateral({
      hostLength: feet(60),
      inspections: [survey({ structuralGrade: 4, direction: "from main", observations })],
      ...differs,
    }),
    usBasis,
  );
const inFeet = (pieces: ReturnType<typeof plan>["sections"]["pieces"]) =>
  pieces?.map(({ start, length }) => [
    start === null ? null : Math.round(convert(start, "m", "ft") * 100) / 100,
    Math.round(convert(length, "m", "ft") * 100) / 100,
  ]);
const why = (planned: ReturnType<typeof plan>) =>
  planned.verdicts.all
    .find(({ treatment }) => treatment === "sectional liner")!
    .reasons.map((reason) => describeReason(reason, usBasis.program));
const offer = (planned: ReturnType<typeof plan>) =>
  planned.offers.find(({ treatment }) => treatment === "sectional liner");

/**
 * Six laterals of 60 ft at the test's prices: a section of any length USD 2,200, a full-length liner
 * 4,200 + 30 ft × 70.50 = 6,315 (30 ft are included). A hole at a point is taken as 0.3 m long, with 0.3 m each side: 0.9 m, which is
 * 2.953 ft, so 3 ft has 0.047 ft to spare: half of it, 0.024 ft, goes to each side.
 */
describe("six laterals by hand", () => {
  it("a hole at 12 ft: one section of 3 ft, its middle on the hole, from 10.5 ft", () => {
    const planned = plan([hole(12)]);
    expect(inFeet(planned.sections.pieces)).toEqual([[10.5, 3]]);
    expect(offer(planned)?.bidLines).toEqual([
      { item: "sectional liner", variant: "4 in x 3 ft", hundredths: 100 },
    ]);
  });

  it("seen from the house, the same hole at 12 ft is 48 ft from the main", () => {
    const inspections = [survey({ structuralGrade: 4, direction: "from house", observations: [hole(12)] })];
    expect(inFeet(plan([], { inspections }).sections.pieces)).toEqual([[46.5, 3]]);
  });

  it("holes at 12 and 40 ft: two sections at 4,400, less than 6,315; work, seals and resin are those of both", () => {
    const planned = plan([hole(40), hole(12)]);
    expect(inFeet(planned.sections.pieces)).toEqual([
      [10.5, 3],
      [38.5, 3],
    ]);
    const two = offer(planned)!;
    expect(two.cost.total).toBe(440_000);
    expect(two.bidLines).toEqual([{ item: "sectional liner", variant: "4 in x 3 ft", hundredths: 200 }]);
    expect(two.liner?.endSeals).toBe(4);
    expect(two.liner?.installedLength).toBeCloseTo(1.8288, 9);
    const one = offer(plan([hole(12)]))!;
    // Volume is in proportion to length; each is rounded to a millilitre, so twice one may differ by one.
    expect(Math.abs(two.wetOut!.millilitres - 2 * one.wetOut!.millilitres)).toBeLessThanOrEqual(1);
    // Both are wet out (15 each) while the 30 of setting up run. Place 20, and 5 with the cure and cool-down are done again; the other steps are not.
    const { cure, "cool-down": coolDown } = one.placed!.times;
    expect(two.crewTime.total - one.crewTime.total).toBe(
      20 + Math.round(2 * (5 + cure + coolDown)) - Math.round(5 + cure + coolDown),
    );
    expect(two.placed!.forces).toEqual(one.placed!.forces);
    expect(why(planned)).toContain("2 section(s), 6.0 ft in all, cover 2 defect(s)");
  });

  it("holes at 12, 30 and 48 ft: three sections at 6,600 cost more than 6,315, so the whole is lined", () => {
    const planned = plan([hole(12), hole(30), hole(48)]);
    expect(why(planned)).toEqual(["sections would cost USD 6,600.00, a full-length liner USD 6,315.00"]);
    expect(planned.choice.treatment).toBe("full-length liner");
  });

  it("holes at 12 and 17 ft: one section of 10 ft at 2,200, not two", () => {
    // 5 ft + 2.953 ft = 7.953 ft; of the 2.047 ft to spare half goes to each side: 12 − 1.476 − 1.024 = 9.5 ft.
    expect(inFeet(plan([hole(12), hole(17)]).sections.pieces)).toEqual([[9.5, 10]]);
  });

  it("a hole at 12 ft with a bend at 12.5 ft cannot be covered, and the bend is named", () => {
    expect(why(plan([hole(12), bend(12.5)]))).toEqual([
      "the defect from 11.5 ft to 12.5 ft cannot be covered by sections: bend in the way",
    ]);
  });
});

describe("what is not known of places", () => {
  it("an unknown end of the survey is the end the distances are from", () => {
    const inspections = [survey({ structuralGrade: 4, observations: [hole(12)] })];
    const planned = plan([], { inspections });
    expect(planned.along?.measuredFrom).toBe("start of the survey");
    expect(inFeet(planned.sections.pieces)).toEqual([[10.5, 3]]);
  });

  it("a defect without a place, or beyond the pipe, leaves the rule of one section", () => {
    for (const observations of [[hole(12, null, { from: null })], [hole(64)]]) {
      const planned = plan(observations);
      expect(planned.sections).toMatchObject({ by: "assumed length", covered: [] });
      expect(inFeet(planned.sections.pieces)).toEqual([[null, 3]]);
    }
  });

  it("a place up to 5 % beyond the pipe is drift of the counter, and is at its end", () => {
    expect(why(plan([hole(62)]))[0]).toContain("nearer an end of the pipe than the overlap it needs");
  });
});

it("what a section does not repair forbids sections, even decided", () => {
  const collapse = hole(20, null, { kind: "collapse" });
  const decided = { ...lateral().decided, treatment: city("sectional liner" as const) };
  const planned = plan([hole(12), collapse], { decided });
  expect(why(planned)).toEqual([
    'a collapse was seen: nothing passes through it (rule "collapse seen")',
    "collapse at 20.0 ft: a section does not repair it",
  ]);
  expect(planned.choice.treatment).not.toBe("sectional liner");
});

it("running infiltration of grade 4 is covered too, fine roots are not", () => {
  const others = (kind: string) => hole(30, null, { kind, mode: "operation" });
  expect(inFeet(plan([hole(12), others("infiltration run")]).sections.pieces)).toHaveLength(2);
  expect(inFeet(plan([hole(12), others("root fine")]).sections.pieces)).toHaveLength(1);
});

it("without a price for a section the least length is placed, and nothing is compared with a full length", () => {
  const { "sectional liner": _, ...prices } = usBasis.prices;
  const observations = [hole(12), hole(30), hole(48)];
  const planned = planLateral(
    lateral({
      hostLength: feet(60),
      inspections: [survey({ structuralGrade: 4, direction: "from main", observations })],
    }),
    { ...usBasis, prices },
  );
  expect(planned.sections.by).toBe("length");
  expect(inFeet(planned.sections.pieces)).toEqual([
    [10.5, 3],
    [28.5, 3],
    [46.5, 3],
  ]);
  expect(planned.sections.against).toEqual([]);
});
