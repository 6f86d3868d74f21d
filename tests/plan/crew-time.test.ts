import { describe, expect, it } from "vitest";
import { crewKinds } from "../../src/columns/plan-columns.ts";
import { setsManned } from "../../src/engineering/crew-cycle.ts";
import { timeCrew } from "../../src/plan/crew-time.ts";
import type { LinerTimes } from "../../src/plan/step-minutes.ts";
import { minutes } from "../../src/quantity/si.ts";
import { houseWorkSteps, workStepsSchema } from "../../src/reference/work-steps.ts";
import { type WorkKind, workKinds } from "../../src/reference/works.ts";

const liner = { insertion: minutes(15), cure: minutes(98), "cool-down": minutes(42) };
const timeWorks = (
  works: readonly WorkKind[],
  length: number,
  times: LinerTimes | null,
  pieces = 1,
  branches = 0,
) =>
  timeCrew(
    works.map((work) => ({ work, times, pieces, branches })),
    length,
    houseWorkSteps,
  );
const timed = (work: WorkKind) => timeWorks([work], 12, liner);

describe("crew time of the works", () => {
  it("never needs more people at once than the crew has, in any work", () => {
    for (const work of workKinds)
      for (const { crew, mostPeople } of timed(work).visits)
        expect(`${work}, ${crew}: ${mostPeople <= houseWorkSteps.crews[crew].people}`).toBe(
          `${work}, ${crew}: true`,
        );
  });

  it("comes in visits of each kind of crew, in the order they come", () => {
    const { visits } = timeWorks(["new cleanout", "full-length liner"], 12, liner);
    expect(visits.map(({ crew }) => crew)).toEqual(["preparation", "lining", "restoration"]);
    expect(crewKinds).toEqual(["preparation", "lining", "dig", "restoration"]);
    // One crew does the cleanout and then cleans: 75 + 45 + 15 + (20 + 18) + 10.
    expect(visits[0]?.whole).toBe(183);
  });

  it("opens each branch again after a liner over the whole length, 20 minutes each, and none after a section", () => {
    const visit = (work: WorkKind, branches: number) =>
      timeWorks([work], 12, liner, 1, branches).visits.find(({ crew }) => crew === "lining")!.whole;
    for (const work of ["full-length liner", "one-piece liner"] as const)
      expect(visit(work, 2) - visit(work, 0)).toBe(40);
    expect(visit("sectional liner", 2)).toBe(visit("sectional liner", 0));
  });

  it("does the set-ups and pack-ups of several works once, between them one work after another", () => {
    const [alone, both] = [["full-length liner"], ["full-length liner", "connection liner"]].map(
      (works) => timeWorks(works as WorkKind[], 12, liner).visits[1]!,
    ) as unknown as [ReturnType<typeof timed>["visits"][number], ReturnType<typeof timed>["visits"][number]];
    // Hand: house 20 (of 20 and 10), then street 35 (of 20 and 35; both at once would need five people), wet out 20 + 6, place 20 + 15, cure 98, release 5 + 42, trim 20, camera 10 + 3;
    // then clean the connection 25, place 30, cure 98, release 47, camera 15; pack up at the street 15.
    expect(both.whole).toBe(20 + 35 + 26 + 35 + 98 + 47 + 20 + 13 + 25 + 30 + 98 + 47 + 15 + 15);
    // Two visits set up and pack up at the street twice: 20 + 15 more; but there the house is set up beside the street: 20 less.
    const second = timeWorks(["connection liner"], 12, liner).visits[0]!;
    expect(alone.whole + second.whole - both.whole).toBe(20 + 15 - 20);
    expect(both.steps.filter(({ step }) => /^set up at the street/.test(step))).toHaveLength(1);
    expect(both.mostPeople).toBeLessThanOrEqual(houseWorkSteps.crews.lining.people);
  });

  it("refuses a shared set-up that waits, and a step that waits for a shared pack-up", () => {
    const steps = houseWorkSteps.steps["clean and cut roots"];
    const withSteps = (changed: object) => ({
      ...houseWorkSteps,
      steps: { ...houseWorkSteps.steps, "clean and cut roots": changed },
    });
    const late = steps.map((each, i) => (i === 1 ? { ...each, shared: "set-up" } : each));
    expect(workStepsSchema.safeParse(withSteps(late)).success).toBe(false);
    const after = [...steps, { ...steps[0], step: "leave", shared: undefined, after: ["pack up"] }];
    expect(workStepsSchema.safeParse(withSteps(after)).success).toBe(false);
  });

  it("places and cures pieces one after another", () => {
    const [one, two] = [1, 2].map(
      (pieces) => timeWorks(["sectional liner"], 12, liner, pieces).visits[1]!.whole,
    ) as unknown as [number, number];
    // Set-up 30 hides the wet-out of two pieces (15 each); a piece more is 20 to place, 98 cure, 5 + 42 release and cool-down.
    expect(two - one).toBe(20 + 98 + 47);
  });

  it("lets no cure hold the crew, only its own people", () => {
    const lining = timed("full-length liner").visits[1]!;
    expect(lining.whole - lining.handsOn).toBe(98 + 5 + 42);
    expect(lining.watching).toBe(1);
    // Four people, all needed to place: with one watching a cure nobody could place, so a second set has nobody to work it.
    expect(setsManned(2, 4, lining.mostPeople, lining.watching)).toBe(1);
    expect(setsManned(2, 5, lining.mostPeople, lining.watching)).toBe(2);
    expect(setsManned(4, 6, lining.mostPeople, lining.watching)).toBe(3);
  });

  it("refuses a step that waits for one below it, and a liner's time without a liner", () => {
    const [first, ...rest] = houseWorkSteps.steps["new cleanout"];
    const circle = {
      ...houseWorkSteps.steps,
      "new cleanout": [{ ...first, after: [rest[0]!.step] }, ...rest],
    };
    expect(workStepsSchema.safeParse({ ...houseWorkSteps, steps: circle }).success).toBe(false);
    expect(() => timeWorks(["full-length liner"], 12, null)).toThrow("a liner that is not there");
  });
});

/**
 * Common practice, no published source; not a check: a whole lateral visit worked from the house and the street runs about
 * 3 h 15 min from set-up to closed access. This says where the default steps put it, so that a change of them is seen.
 */
describe("calibration: common practice, not a check", () => {
  it("puts the lining visit of a 40 ft, 4 in lateral 79 min over 3 h 15 min with the house's hot-water cure", () => {
    // tests/walkthrough.test.ts works the 274 min out by hand; 145 of them are cure and cool-down by the assumed schedule.
    const visit = timeWorks(["full-length liner"], 12.192, {
      insertion: minutes(13.392 / 0.9144),
      cure: minutes(97.5),
      "cool-down": minutes(42.2222),
    }).visits.find(({ crew }) => crew === "lining")!;
    expect(visit.whole - 195).toBe(79);
    // The preparation crew's 63 min come days before and are not in it. A cure of 66 min in all would meet it exactly.
    expect(visit.whole - 79 - visit.handsOn).toBe(66);
  });
});
