import { describe, expect, it } from "vitest";
import { readCondition } from "../../src/plan/condition.ts";
import { describeReason } from "../../src/plan/reason.ts";
import { fraction, metres } from "../../src/quantity/si.ts";
import { city, feet, lateral, observation, on, survey, usBasis } from "./examples.ts";

const asOf = on("2026-03-01");
const read = (of: ReturnType<typeof lateral>) => readCondition(of, asOf, 10, 30);
const words = (of: ReturnType<typeof read>) =>
  of.reasons.map((reason) => describeReason(reason, usBasis.program));

describe("readCondition", () => {
  it("says not inspected, which is not grade 0", () => {
    const condition = read(lateral({ inspections: [] }));
    expect(condition.state).toBe("not inspected");
    expect(condition.structural).toBeNull();
    expect(read(lateral({ inspections: [survey({ structuralGrade: 0 })] })).structural?.value).toBe(0);
  });

  it("lets the latest complete survey lead, even when it is better than an older one", () => {
    const condition = read(
      lateral({
        inspections: [
          survey({ on: on("2023-05-01"), structuralGrade: 4 }),
          survey({ on: on("2025-05-01"), structuralGrade: 2 }),
        ],
      }),
    );
    expect(condition.structural?.value).toBe(2);
    expect(condition.leading?.on).toBe(on("2025-05-01"));
    expect(condition.reinspect).toEqual([]);
  });

  describe("of a complete survey of which no grade can be made", () => {
    const bare = { structuralGrade: null, omGrade: null, connectionGrade: null };
    const newer = survey({ on: on("2026-02-10"), ...bare });

    it("an older one with grades leads, and it is said", () => {
      const graded = survey({ on: on("2025-05-01"), structuralGrade: 3, omGrade: 2 });
      const condition = read(lateral({ inspections: [graded, newer] }));
      expect(condition.leading).toBe(graded);
      expect(condition.structuralSeen).toBe(on("2025-05-01"));
      expect(condition.structural?.value).toBe(3);
      expect(condition.reinspect).toEqual([]);
      expect(words(condition)).toContain(
        "the survey of 2026-02-10 does not lead: no grade can be made of it",
      );
    });

    it("the whole lateral is not seen where only a part of it was graded", () => {
      const part = survey({
        on: on("2025-05-01"),
        structuralGrade: 3,
        complete: false,
        stoppedBecause: "roots",
      });
      const condition = read(lateral({ inspections: [part, newer] }));
      expect(condition.state).toBe("surveyed in part");
      expect(condition.leading).toBe(part);
      // The camera of 2026 did not stop.
      expect(condition.reinspect).toEqual([
        { code: "survey stopped", on: on("2025-05-01"), because: "roots" },
      ]);
    });

    it("one with an observation that has a grade leads", () => {
      const observed = {
        ...newer,
        observations: [observation({ kind: "crack", mode: "structural", grade: 2 })],
      };
      const older = survey({ on: on("2025-05-01"), structuralGrade: 3 });
      expect(read(lateral({ inspections: [older, observed] })).leading).toBe(observed);
    });

    it("it leads alone, and so does the newest of those that all have none", () => {
      const older = survey({ on: on("2025-05-01"), ...bare });
      expect(read(lateral({ inspections: [newer] })).leading).toBe(newer);
      expect(read(lateral({ inspections: [older, newer] })).leading).toBe(newer);
    });

    it("its ovality counts all the same: a profile may be all that was taken", () => {
      const graded = survey({ on: on("2025-05-01"), ovality: fraction(0.01) });
      const profile = { ...newer, ovality: fraction(0.06) };
      expect(read(lateral({ inspections: [graded, profile] })).ovality?.value).toBe(0.06);
    });
  });

  it("never lets a newer incomplete survey lower a grade, and asks for a re-inspection with the reason it stopped", () => {
    const condition = read(
      lateral({
        inspections: [
          survey({ on: on("2023-05-01"), structuralGrade: 4, omGrade: 3 }),
          survey({
            on: on("2025-05-01"),
            structuralGrade: 1,
            omGrade: 0,
            complete: false,
            stoppedBecause: "root ball",
          }),
        ],
      }),
    );
    expect(condition.structural?.value).toBe(4);
    expect(condition.om?.value).toBe(3);
    expect(condition.state).toBe("surveyed");
    expect(condition.reinspect).toEqual([
      { code: "survey stopped", on: on("2025-05-01"), because: "root ball" },
    ]);
  });

  it("carries a worse finding of a newer incomplete survey forward and says so", () => {
    const condition = read(
      lateral({
        inspections: [
          survey({ on: on("2023-05-01"), structuralGrade: 2 }),
          survey({ on: on("2025-05-01"), structuralGrade: 5, complete: false, stoppedBecause: "collapse" }),
        ],
      }),
    );
    expect(condition.structural?.value).toBe(5);
    expect(condition.leading?.on).toBe(on("2023-05-01"));
    expect(words(condition)).toEqual([
      "structural grade 5 carried forward from the incomplete survey of 2025-05-01",
    ]);
    // It wears on from the day it was found, not from that of the better survey which leads.
    expect(condition.structuralSeen).toBe(on("2025-05-01"));
  });

  it("takes the worst of all incomplete surveys when none is complete", () => {
    const condition = read(
      lateral({
        inspections: [
          survey({ on: on("2023-05-01"), structuralGrade: 4, complete: false }),
          survey({ on: on("2025-05-01"), structuralGrade: 2, complete: false }),
        ],
      }),
    );
    expect(condition.state).toBe("surveyed in part");
    expect(condition.structural?.value).toBe(4);
  });

  it("counts a survey that does not say as whole only when it went the length and names no reason to stop", () => {
    const state = (differs: Parameters<typeof survey>[0]) =>
      read(lateral({ hostLength: feet(40), inspections: [survey({ complete: null, ...differs })] })).state;
    expect(state({})).toBe("surveyed");
    expect(state({ surveyedLength: feet(39)!.value })).toBe("surveyed");
    expect(state({ surveyedLength: feet(30)!.value })).toBe("surveyed in part");
    expect(state({ stoppedBecause: "water level" })).toBe("surveyed in part");
  });

  it("believes the camera where a survey says that it is complete, that it stopped, and that it fell short", () => {
    const of = (seen: Partial<Parameters<typeof survey>[0]>) =>
      read(lateral({ hostLength: feet(40), inspections: [survey({ complete: true, ...seen })] }));
    const roots = of({ stoppedBecause: "roots", surveyedLength: metres(9 * 0.3048) });
    expect(roots.state).toBe("surveyed in part");
    expect(roots.reinspect.map(({ code }) => code)).toEqual(["survey stopped"]);
    // Either alone may have its reason: a host length that is wrong, a note on what was passed.
    expect(of({ surveyedLength: metres(9 * 0.3048) }).state).toBe("surveyed");
    expect(of({ stoppedBecause: "cleanout reached", surveyedLength: metres(40 * 0.3048) }).state).toBe(
      "surveyed",
    );
  });

  it("keeps a grade that the leading survey does not state from the latest older one that does", () => {
    const surveys = [
      survey({ on: on("2014-05-01"), structuralGrade: 2, omGrade: 4 }),
      survey({ on: on("2018-05-01"), structuralGrade: 5, omGrade: 3 }),
      survey({ on: on("2021-05-01"), structuralGrade: null, omGrade: 1 }),
    ];
    const condition = read(lateral({ inspections: surveys }));
    expect(condition.structural?.value).toBe(5);
    expect(condition.structuralSeen).toBe(on("2018-05-01"));
    expect(condition.om?.value).toBe(1);
    expect(condition.leading?.on).toBe(on("2021-05-01"));
    expect(words(condition)).toContain(
      "structural grade 5 of the survey of 2018-05-01: the leading one states none",
    );
    // An incomplete one between them only makes it worse, and a newer one that states it leads again.
    const between = survey({ on: on("2019-05-01"), structuralGrade: 3, complete: false });
    expect(read(lateral({ inspections: [...surveys, between] })).structural?.value).toBe(5);
    const newest = survey({ on: on("2024-05-01"), structuralGrade: 1, omGrade: null });
    const again = read(lateral({ inspections: [...surveys, newest] }));
    expect([again.structural?.value, again.om?.value, again.structuralSeen]).toEqual([
      1,
      1,
      on("2024-05-01"),
    ]);
  });

  it("takes the worse of a grade and its quick rating", () => {
    const condition = read(
      lateral({ inspections: [survey({ structuralGrade: 2, structuralQuick: "4132" })] }),
    );
    expect(condition.structural?.value).toBe(4);
    expect(condition.structuralRating?.worst).toEqual({ grade: 4, least: 1, most: 1 });
  });

  it("does not look into the future, and says how many surveys it left out", () => {
    const condition = read(
      lateral({ inspections: [survey(), survey({ on: on("2026-04-01"), structuralGrade: 5 })] }),
    );
    expect(condition.structural?.value).toBe(1);
    expect(condition.reasons).toEqual([{ code: "survey after as-of", count: 1 }]);
  });

  it("asks for another look when the leading survey is older than the limit", () => {
    const condition = read(lateral({ inspections: [survey({ on: on("2014-01-01") })] }));
    expect(condition.reinspect[0]?.code).toBe("survey too old");
    // 4,442 days between the two dates.
    expect(condition.ageYears).toBeCloseTo(4442 / 365.2425, 9);
  });

  it("keeps the worst measured ovality and puts a decided grade first", () => {
    const condition = read(
      lateral({
        inspections: [
          survey({ ovality: fraction(0.03) }),
          survey({ ovality: fraction(0.06), complete: false }),
        ],
        decided: { structuralGrade: city(3), omGrade: null, treatment: null },
      }),
    );
    expect(condition.ovality?.value).toBe(0.06);
    expect(condition.structural?.value).toBe(3);
  });
});
