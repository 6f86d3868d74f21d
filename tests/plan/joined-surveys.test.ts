import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readCondition } from "../../src/plan/condition.ts";
import type { Inspection } from "../../src/plan/lateral.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { describeReason } from "../../src/plan/reason.ts";
import { type Day, metres } from "../../src/quantity/si.ts";
import { feet, lateral, observation, on, survey, usBasis } from "./examples.ts";

const asOf = on("2026-03-01");
/** The lateral of the examples is 40 ft long. */
const FEET = 0.3048;
const read = (inspections: readonly Inspection[], differs: Parameters<typeof lateral>[0] = {}) =>
  readCondition(lateral({ inspections, ...differs }), asOf, 10, 30);
const part = (differs: Partial<Inspection>) =>
  survey({ complete: false, stoppedBecause: "bend", surveyedLength: metres(20 * FEET), ...differs });

const fromMain = part({ direction: "from main", structuralGrade: 2, omGrade: 3, structuralQuick: "2100" });
const fromHouse = part({
  direction: "from house",
  structuralGrade: 4,
  omGrade: 1,
  connectionGrade: null,
  structuralQuick: "4100",
});

describe("two surveys from opposite ends", () => {
  it("count as one complete survey with the worst of both when together they saw the whole", () => {
    const condition = read([fromMain, fromHouse]);
    expect(condition.state).toBe("surveyed");
    expect([condition.structural?.value, condition.om?.value, condition.connection?.value]).toEqual([
      4, 3, 1,
    ]);
    expect(condition.reinspect).toEqual([]);
    expect(condition.reasons.map((reason) => describeReason(reason, usBasis.program))).toEqual([
      "the surveys of 2025-06-15 and 2025-06-15, from opposite ends, together cover 100.0 % of the length: " +
        "they count as one complete survey, with the worst of both",
    ]);
    // One defect of grade 2 in one part, one of grade 4 in the other; they may overlap.
    expect(condition.defects).toMatchObject({ least: 1, most: 2, span: null });
  });

  it("stay two incomplete ones from the same end, over too short a length, too far apart, or of unknown end or length", () => {
    const other = (differs: Partial<Inspection>) => read([fromMain, { ...fromHouse, ...differs }]).state;
    expect(other({})).toBe("surveyed");
    expect(other({ direction: "from main" })).toBe("surveyed in part");
    expect(other({ direction: null })).toBe("surveyed in part");
    expect(other({ surveyedLength: null })).toBe("surveyed in part");
    // 95 % of 40 ft is 38 ft: 20 + 18 ft are enough, 20 + 17.9 ft are not.
    expect(other({ surveyedLength: metres(18 * FEET) })).toBe("surveyed");
    expect(other({ surveyedLength: metres(17.9 * FEET) })).toBe("surveyed in part");
    expect(other({ on: on("2025-07-15") })).toBe("surveyed");
    expect(other({ on: on("2025-07-16") })).toBe("surveyed in part");
    expect(read([fromMain, fromHouse], { hostLength: null }).state).toBe("surveyed in part");
  });

  it("are not joined across a complete survey, which saw more than either", () => {
    const between = survey({ on: on("2025-06-20"), structuralGrade: 3 });
    const condition = read([fromMain, between, { ...fromHouse, on: on("2025-06-25") }]);
    expect(condition.joinedWith).toBeNull();
    expect(condition.leading?.on).toBe(on("2025-06-20"));
    // What the later part found worse is carried forward all the same.
    expect(condition.structural?.value).toBe(4);
  });

  it("lead over an older complete survey, and take in what another survey between them found worse", () => {
    const old = survey({ on: on("2020-01-01"), structuralGrade: 5 });
    const between = part({ on: on("2025-06-20"), direction: null, structuralGrade: 5 });
    const late = { ...fromHouse, on: on("2025-06-25") };
    expect(read([old, fromMain, late]).structural?.value).toBe(4);
    expect(read([old, fromMain, between, late]).structural?.value).toBe(5);
  });
});

const dayNear = fc.integer({ min: 0, max: 60 }).map((days) => (on("2025-06-01") + days) as Day);
const grade = fc.option(fc.integer({ min: 0, max: 5 }));
const anySurvey = fc
  .record({
    on: dayNear,
    structuralGrade: grade,
    omGrade: grade,
    connectionGrade: grade,
    structuralQuick: fc.constantFrom("", "4100", "5236", "0000"),
    complete: fc.option(fc.boolean()),
    stoppedBecause: fc.constantFrom("", "bend"),
    surveyedLength: fc.option(fc.integer({ min: 0, max: 45 }).map((ft) => metres(ft * FEET))),
    direction: fc.option(fc.constantFrom("from main" as const, "from house" as const)),
    observations: fc.option(
      fc.array(
        fc
          .record({
            grade,
            mode: fc.constantFrom("structural" as const, "operation" as const, "unknown" as const),
          })
          .map(observation),
        { minLength: 1, maxLength: 3 },
      ),
    ),
  })
  .map(survey);

describe("surveys of any kind", () => {
  it("an incomplete survey never lowers a grade, unless it completes another", () => {
    fc.assert(
      fc.property(fc.array(anySurvey, { maxLength: 4 }), anySurvey, (inspections, extra) => {
        const before = read(inspections);
        const after = read([...inspections, { ...extra, complete: false }]);
        if (after.joinedWith === null) {
          for (const what of ["structural", "om", "connection"] as const)
            expect(after[what]?.value ?? -1).toBeGreaterThanOrEqual(before[what]?.value ?? -1);
          return;
        }
        for (const joined of [after.leading, after.joinedWith])
          expect(after.structural?.value ?? -1).toBeGreaterThanOrEqual(joined?.structuralGrade ?? -1);
      }),
      { numRuns: 500 },
    );
  });

  it("give the same condition in any order of rows", () => {
    fc.assert(
      fc.property(
        fc
          .array(anySurvey, { maxLength: 5 })
          .chain((list) =>
            fc.tuple(fc.constant(list), fc.shuffledSubarray(list, { minLength: list.length })),
          ),
        ([list, shuffled]) => {
          expect(read(shuffled)).toEqual(read(list));
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe("a sectional liner by observations", () => {
  const plan = (inspections: readonly Inspection[]) =>
    planLateral(lateral({ inspections, hostLength: feet(60) }), usBasis);
  const offer = (inspections: readonly Inspection[]) =>
    plan(inspections).offers.find(({ treatment }) => treatment === "sectional liner");
  const seen = (observations: Inspection["observations"], structuralQuick = "") =>
    survey({ structuralGrade: 4, structuralQuick, observations });

  it("is offered where they show one defect and no rating is stated", () => {
    expect(offer([seen(null)])).toBeUndefined();
    // 0.3 m with 0.3 m each side is 0.9 m: the 3 ft section, 0.9144 m.
    expect(offer([seen([observation()])])?.liner?.installedLength).toBeCloseTo(0.9144, 9);
  });

  it("covers one long defect that the quick rating counts as two, in a section as long as it takes", () => {
    // 2.4 m continuous counts 2.4/1.524 = 1.6, so twice; 2.4 + 2 × 0.3 = 3.0 m: the 10 ft section, 3.048 m.
    const long = observation({ from: metres(3), to: metres(5.4) });
    expect(offer([seen(null, "4200")])).toBeUndefined();
    expect(offer([seen([long], "4200")])?.liner?.installedLength).toBeCloseTo(3.048, 9);
    // 2.5 m would need 3.1 m, and no section is so long.
    const refused = plan([seen([{ ...long, to: metres(5.5) }], "4200")]).verdicts.all.find(
      ({ treatment }) => treatment === "sectional liner",
    );
    expect(refused?.reasons.map((reason) => describeReason(reason, usBasis.program))).toEqual([
      // From 3 m and to 5.5 m; 3.048 m less 2 × 0.3 m is 2.448 m, 8.0 ft.
      "the defect from 9.8 ft to 18.0 ft cannot be covered by sections: the longest section covers 8.0 ft",
    ]);
  });

  it("is not offered where they disagree with the rating stated", () => {
    expect(offer([seen([observation()], "4300")])).toBeUndefined();
  });
});
