import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { crossBoreStates } from "../../src/columns/lateral-columns.ts";
import type { TreatmentKind } from "../../src/columns/plan-columns.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { describeReason } from "../../src/plan/reason.ts";
import { stated } from "../../src/plan/stated.ts";
import { fraction, type Metres, type Millimetres } from "../../src/quantity/si.ts";
import { city, feet, inches, lateral, on, survey, usBasis } from "./examples.ts";

const plan = (differs: Parameters<typeof lateral>[0]) => planLateral(lateral(differs), usBasis);
const eligible = (differs: Parameters<typeof lateral>[0]) =>
  plan(differs)
    .verdicts.all.filter((verdict) => verdict.eligible)
    .map((verdict) => verdict.treatment);
const against = (differs: Parameters<typeof lateral>[0], treatment: TreatmentKind) =>
  plan(differs)
    .verdicts.all.find((verdict) => verdict.treatment === treatment)!
    .reasons.map((reason) => describeReason(reason, usBasis.program));

const grade4 = [survey({ structuralGrade: 4, structuralQuick: "4332" })];
const collapse = [survey({ structuralGrade: 5, complete: false, stoppedBecause: "collapse" })];

describe("judgeTreatments", () => {
  it("never lines a pipe nobody has looked into: it is inspected first", () => {
    expect(eligible({ inspections: [] })).toEqual(["inspect first"]);
  });

  it("leaves a sound pipe, with the date to look again", () => {
    const planned = plan({ inspections: [survey({ structuralGrade: 2 })] });
    expect(planned.choice.treatment).toBe("leave and re-inspect");
    // Seen on 15 June 2025, and 7 years of 365.2425 days after that.
    expect(describeReason(planned.choice.reasons[0]!, usBasis.program)).toBe(
      "worst grade 2: look again in 7 year(s) after the survey of 2025-06-15, by 2032-06-15",
    );
  });

  it("lines a grade 4 pipe over its full length when the quick rating counts several defects", () => {
    expect(eligible({ inspections: grade4 })).toEqual(["full-length liner"]);
    expect(against({ inspections: grade4 }, "sectional liner")).toContain(
      "up to 5 defects, sections are for 1",
    );
  });

  it("places one section where the quick rating counts one defect, and offers the full length beside it", () => {
    const inspections = [survey({ structuralGrade: 4, structuralQuick: "4100" })];
    expect(eligible({ inspections })).toEqual(["sectional liner", "full-length liner"]);
    expect(plan({ inspections }).choice.treatment).toBe("sectional liner");
  });

  it("takes a letter in the quick rating as a range, so its pipe gets no section", () => {
    const inspections = [survey({ structuralGrade: 4, structuralQuick: "4A00" })];
    expect(eligible({ inspections })).toEqual(["full-length liner"]);
  });

  it.each(["not cleared", null] as const)(
    "blocks cutting and every liner while the cross-bore status is %s, and looks first",
    (state) => {
      const crossBore = state === null ? null : city(state);
      expect(eligible({ inspections: grade4, crossBore })).toEqual(["inspect first"]);
      expect(eligible({ inspections: [survey({ omGrade: 4 })], crossBore })).toEqual(["inspect first"]);
      expect(eligible({ inspections: [survey({ connectionGrade: 4 })], crossBore })).toEqual([
        "inspect first",
      ]);
    },
  );

  it("stops all work, digging too, where a cross-bore was found", () => {
    expect(eligible({ inspections: collapse, crossBore: city("found") })).toEqual(["inspect first"]);
    expect(against({ inspections: collapse, crossBore: city("found") }, "open-cut replacement")).toEqual([
      'a cross-bore was found: no work until the utility has removed it (rule "cross-bore found")',
    ]);
  });

  it.each([
    ["a sound pipe", survey({ structuralGrade: 1, omGrade: 1 })],
    ["a pipe that needs work", grade4[0]!],
    ["a collapse", collapse[0]!],
  ])(
    "calls for the utility's owner first where a cross-bore was found in %s, and leaves it not",
    (_, seen) => {
      const { choice } = plan({ inspections: [seen], crossBore: city("found") });
      expect(choice.treatment).toBe("inspect first");
      expect(choice.reasons[0]).toEqual({ code: "cross-bore found" });
      expect(choice.reasons.map((reason) => describeReason(reason, usBasis.program)).join()).not.toMatch(
        /not known/,
      );
    },
  );

  it("digs up a collapse the camera could not pass", () => {
    expect(plan({ inspections: collapse }).choice.treatment).toBe("open-cut replacement");
  });

  it("lines no pipe whose newest survey could not get through, though an older one was complete", () => {
    const inspections = [
      survey({ on: on("2024-01-01"), structuralGrade: 4, structuralQuick: "4332" }),
      survey({ on: on("2025-09-01"), structuralGrade: 4, complete: false, stoppedBecause: "water level" }),
    ];
    expect(eligible({ inspections })).toEqual(["inspect first"]);
  });

  it("cuts roots for an O&M grade of 3 or worse, and not where the pipe needs repair", () => {
    expect(eligible({ inspections: [survey({ omGrade: 3 })] })).toEqual(["clean and cut roots"]);
    expect(eligible({ inspections: [survey({ omGrade: 4, structuralGrade: 4 })] })).not.toContain(
      "clean and cut roots",
    );
  });

  it("lines only the connection where only the connection is bad", () => {
    expect(eligible({ inspections: [survey({ connectionGrade: 4 })] })).toEqual(["connection liner"]);
    expect(
      against({ inspections: [survey({ connectionGrade: 4 })], mainDiameter: null }, "connection liner"),
    ).toContain("diameter of the main not known");
    expect(
      against({ inspections: [survey({ connectionGrade: 4 })], mainDiameter: inches(4) }, "connection liner"),
    ).toContain("the lateral (4.0 in) is not narrower than the main (4.0 in)");
  });

  it("replaces what is too oval to line", () => {
    const inspections = [survey({ structuralGrade: 4, structuralQuick: "4332", ovality: fraction(0.12) })];
    expect(eligible({ inspections })).toEqual(["open-cut replacement", "pipe bursting"]);
    // Without a trench before with one.
    expect(plan({ inspections }).choice.treatment).toBe("pipe bursting");
    const why = against({ inspections }, "full-length liner");
    expect(why[0]).toContain("over the program's limit of 10.0 %");
    expect(why[1]).toContain("outside ASTM F1216 Appendix X1");
  });

  it("cuts and lines no asbestos-cement host, and says why", () => {
    const differs = { inspections: grade4, hostMaterial: city("asbestos cement" as const) };
    expect(eligible(differs)).toEqual(["inspect first"]);
    expect(against(differs, "full-length liner")[0]).toContain("asbestos-cement");
  });

  it("asks for a measurement where the host's size or length is not known", () => {
    expect(eligible({ inspections: grade4, hostDiameter: null })).toEqual(["inspect first"]);
    expect(eligible({ inspections: grade4, hostLength: null })).toEqual(["inspect first"]);
  });

  it("does not follow a decision that a rule forbids, and says so", () => {
    const decided = {
      structuralGrade: null,
      omGrade: null,
      treatment: stated("full-length liner" as const, "decided", "cheap"),
    };
    const planned = plan({ inspections: [], decided });
    expect(planned.choice.treatment).toBe("inspect first");
    expect(planned.choice.reasons[0]).toEqual({
      code: "decision not allowed",
      treatment: "full-length liner",
    });
    const allowed = plan({ inspections: [survey({ structuralGrade: 4, structuralQuick: "4100" })], decided });
    expect(allowed.choice).toMatchObject({ treatment: "full-length liner", by: "decision" });
  });

  it("always allows something, and never cuts or lines under an unclear cross-bore, whatever is known", () => {
    const maybe = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: null });
    const grade = maybe(fc.integer({ min: 0, max: 5 }));
    const inspection = fc
      .record({
        structuralGrade: grade,
        omGrade: grade,
        connectionGrade: grade,
        structuralQuick: fc.constantFrom("", "4100", "5236", "3A21", "0000"),
        complete: maybe(fc.boolean()),
        stoppedBecause: fc.constantFrom("", "collapse"),
        ovality: maybe(fc.double({ min: 0, max: 0.2, noNaN: true }).map(fraction)),
        surveyedLength: maybe(fc.double({ min: 0, max: 60, noNaN: true }).map((m) => m as Metres)),
      })
      .map((differs) => survey(differs));
    fc.assert(
      fc.property(
        fc.array(inspection, { maxLength: 3 }),
        maybe(fc.constantFrom(...crossBoreStates)),
        maybe(fc.double({ min: 50, max: 400, noNaN: true })),
        maybe(fc.double({ min: 1, max: 100, noNaN: true })),
        maybe(fc.double({ min: 0.1, max: 12, noNaN: true })),
        maybe(fc.double({ min: 80, max: 600, noNaN: true })),
        (inspections, crossBore, diameter, length, cover, main) => {
          const planned = plan({
            inspections,
            crossBore: crossBore === null ? null : city(crossBore),
            hostDiameter: diameter === null ? null : city(diameter as Millimetres),
            hostLength: length === null ? null : city(length as Metres),
            coverAtMain: cover === null ? null : city(cover as Metres),
            mainDiameter: main === null ? null : city(main as Millimetres),
          });
          const allowed = planned.offers.map((offer) => offer.treatment);
          expect(allowed).toContain(planned.choice.treatment);
          if (crossBore !== "cleared") {
            const blocked = [
              "clean and cut roots",
              "sectional liner",
              "full-length liner",
              "connection liner",
            ];
            expect(allowed.filter((treatment) => blocked.includes(treatment))).toEqual([]);
          }
        },
      ),
      { numRuns: 500 },
    );
  });

  it("keeps a longer pipe than the system reaches out of the liner, with both lengths", () => {
    expect(against({ inspections: grade4, hostLength: feet(160) }, "full-length liner")).toEqual([
      '160.0 ft long, the system reaches 150.0 ft (rule "longer than the full-length system reaches")',
    ]);
  });
});

describe("chooseTreatment by present worth", () => {
  const byWorth = { ...usBasis, life: { ...usBasis.life, choose: "present worth" as const } };

  it("takes the least of work, renewals and failures still expected, and names the next", () => {
    // A section at 2,200 and a full-length liner at 4,905, both good for the 50 years of the horizon: by their prices the section, by what it
    // leaves to fail (three tenths of the structural chance against three hundredths) the liner.
    const of = lateral({ inspections: [survey({ structuralGrade: 4, structuralQuick: "4100" })] });
    const planned = planLateral(of, byWorth);
    const total = (treatment: TreatmentKind) => {
      const offer = planned.offers.find((each) => each.treatment === treatment)!;
      return offer.cost.total! + Math.round(offer.after.money!.remaining.best);
    };
    const worths = [total("sectional liner"), total("full-length liner")];
    expect(planned.choice.treatment).toBe("full-length liner");
    expect(worths[1]).toBeLessThan(worths[0]!);
    expect(planned.choice.runnerUp).toEqual({ treatment: "sectional liner", more: worths[0]! - worths[1]! });
    expect(planned.choice.reasons[0]).toMatchObject({
      code: "least total worth",
      worth: worths[1],
      runnerUp: { treatment: "sectional liner", worth: worths[0] },
    });
  });

  it("never outbids a look at the pipe: what has no life of its own keeps the order", () => {
    const of = lateral({ inspections: [] });
    expect(planLateral(of, byWorth).choice.treatment).toBe("inspect first");
  });
});

describe("a decided treatment", () => {
  const decide = (treatment: TreatmentKind, differs: Parameters<typeof lateral>[0] = {}) =>
    plan({
      ...differs,
      decided: {
        structuralGrade: null,
        omGrade: null,
        treatment: stated(treatment, "decided", "street is rebuilt"),
      },
    });

  it("is followed where the rules only prefer another, and the plan says what they say", () => {
    const planned = decide("open-cut replacement", { inspections: grade4 });
    expect(planned.choice.treatment).toBe("open-cut replacement");
    expect(planned.choice.reasons.map((reason) => describeReason(reason, usBasis.program))).toEqual([
      "decided by a person: street is rebuilt",
      'structural grade 4, better than the 5 that asks for it (rule "beyond lining")',
      // 40 ft at 260.00 and 120 ft² at 18.75 are 12,650.00; the liner is 4,200.00 and 10 ft at 70.50.
      expect.stringMatching(
        /^the plan's own choice is full-length liner: the decision costs USD 7,745.00 more now, USD .* more over the horizon$/,
      ),
    ]);
  });

  it("leaves a lateral that a cross-bore was found in, and the owner of the line is called first all the same", () => {
    const { choice } = decide("leave and re-inspect", {
      crossBore: city("found"),
      inspections: [survey({ structuralGrade: 1, omGrade: 1 })],
    });
    expect(choice).toMatchObject({ by: "decision", treatment: "leave and re-inspect" });
    expect(choice.reasons[0]).toEqual({ code: "cross-bore found" });
  });

  it("gets its wall designed even where the grades would not ask for a liner", () => {
    const planned = decide("full-length liner");
    expect(planned.choice.treatment).toBe("full-length liner");
    expect(planned.chosen.wall?.specified.stocked).toBe(4.5);
  });

  it.each(["clean and cut roots", "sectional liner", "full-length liner", "connection liner"] as const)(
    "is never %s while the cross-bore status is unknown",
    (treatment) => {
      expect(decide(treatment, { crossBore: null, inspections: grade4 }).choice).toMatchObject({
        treatment: "inspect first",
        by: "plan",
      });
    },
  );

  it("is never digging where a cross-bore was found", () => {
    expect(decide("open-cut replacement", { crossBore: city("found"), inspections: grade4 }).choice.by).toBe(
      "plan",
    );
  });
});
