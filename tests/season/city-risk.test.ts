import { describe, expect, it } from "vitest";
import { forecastCity, renewedShare } from "../../src/season/city-forecast.ts";
import { clearWaterByDistrict } from "../../src/season/clear-water.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { drawsFor, selectionStability, withStability } from "../../src/season/selection-stability.ts";
import { screenSewersheds } from "../../src/season/sewershed-screening.ts";
import { numberAt } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, type Row, surveyRow } from "./examples.ts";

const plan = (laterals: readonly Row[], inspections: readonly Row[]) =>
  planProgram(programTables(laterals, inspections), usBasis, { problems: [], tallies: [] });

const laterals = ["A", "B", "C", "D", "E", "F"].map((id) => lateralRow(id));
const surveys = [
  surveyRow("A", 4, 1, { structural_quick: "4332" }),
  surveyRow("B", 2),
  surveyRow("C", 1),
  surveyRow("D", 0),
  surveyRow("E", 3),
];

describe("the forecast of a city", () => {
  it("starts from the seen grades with the others spread, and keeps their number for twenty years", () => {
    const { doNothing, asPlanned, notGraded, renewed } = forecastCity(plan(laterals, surveys));
    expect(notGraded).toBe(1);
    for (const { years } of [doNothing, asPlanned])
      for (const { expected } of years) expect(expected.reduce((a, b) => a + b, 0)).toBeCloseTo(6, 9);
    expect(renewed).toBeGreaterThan(0);
    expect(asPlanned.years[20]!.expected[4]! + asPlanned.years[20]!.expected[5]!).toBeLessThan(
      doNothing.years[20]!.expected[4]! + doNothing.years[20]!.expected[5]!,
    );
  });
});

describe("clear water", () => {
  it("shares the city's unit rate out over the laterals and changes no total", () => {
    const planned = plan(laterals, surveys);
    let sum = 0;
    for (let row = 0; row < 6; row++) sum += numberAt(planned.laterals, "infiltration", row);
    // 6 laterals of 4 in × 40 ft at 3,693 gpd per inch-diameter-mile (Haverhill MA 2011): 6 × 111.909 gpd.
    expect(sum).toBeCloseTo((6 * 111.909 * 3.785412) / 86_400, 6);
    const { before, removed } = clearWaterByDistrict(planned);
    expect(before[0]?.flow).toBeCloseTo(sum, 12);
    // Sealed 0.67 to 0.75, migration 0.6 to 0: from 0.67 × 0.4 to 0.75 of what leaked before.
    const [kept] = removed;
    expect(kept!.removed.least / kept!.before).toBeCloseTo(0.268, 9);
    expect(kept!.removed.most / kept!.before).toBeCloseTo(0.75, 9);
  });
});

describe("what a treatment renews", () => {
  const sectional = { pipes: 0.25, toGrade: 2 };
  /** As if every treatment renewed this. */
  const renewing = (share: typeof sectional) => {
    const planned = plan(laterals, surveys);
    const { deterioration } = planned.basis;
    const { byTreatment } = deterioration.renewal;
    const all = Object.fromEntries(Object.keys(byTreatment).map((kind) => [kind, share]));
    const renewal = { ...deterioration.renewal, byTreatment: all };
    return { ...planned, basis: { ...planned.basis, deterioration: { ...deterioration, renewal } } };
  };

  it("counts a share of the pipes at the grade they are mended to, and leaves those no worse than it", () => {
    const { doNothing, asPlanned, renewed, counted } = forecastCity(renewing(sectional));
    // Grades 4, 2, 1, 0 and 3, one without: only 4 and 3 are worse than grade 2.
    expect([renewed, counted]).toEqual([2, 0.5]);
    const before = doNothing.years[1]!.expected;
    const after = asPlanned.years[1]!.expected;
    // A quarter of a lateral of grade 4, a year worn: 0.988 still 4, 0.012 now 5 (the published chain). Of grade 3: 0.979 and 0.021.
    expect(before[5]! - after[5]!).toBeCloseTo(0.25 * 0.012, 9);
    expect(before[4]! - after[4]!).toBeCloseTo(0.25 * (0.988 + 0.021), 9);
    expect(before[3]! - after[3]!).toBeCloseTo(0.25 * 0.979, 9);
    expect(after[2]! - before[2]!).toBeCloseTo(0.5, 9);
    expect(after[0]).toBeCloseTo(before[0]!, 9);
  });

  it("keeps out the part of the infiltration that it can reach", () => {
    /** As if each work were where this part of the infiltration comes in. */
    const reaching = (part: number) => {
      const planned = plan(laterals, surveys);
      const reached = { least: part, best: part, most: part };
      const { works } = planned.basis.effects;
      const all = Object.fromEntries(
        Object.entries(works).map(([work, effect]) => [
          work,
          effect === null ? null : { ...effect, reached },
        ]),
      ) as typeof works;
      return { ...planned, basis: { ...planned.basis, effects: { ...planned.basis.effects, works: all } } };
    };
    const { removed } = clearWaterByDistrict(reaching(0.4));
    // Only grade 4 is lined; a look and a wait seal nothing.
    expect(removed[0]!.laterals).toBe(1);
    // Sealed 0.67 to 0.75 of four tenths, migration 0.6 to 0.
    expect(removed[0]!.removed.least / removed[0]!.before).toBeCloseTo(0.67 * 0.4 * 0.4, 9);
    expect(removed[0]!.removed.most / removed[0]!.before).toBeCloseTo(0.75 * 0.4, 9);
    expect(clearWaterByDistrict(reaching(0))).toMatchObject({
      removed: [],
      worth: null,
    });
  });

  it("is never nothing for want of a row in the table", () => {
    expect(() => renewedShare("magic", usBasis)).toThrow('no share for the treatment "magic"');
  });
});

describe("cost effectiveness by district", () => {
  it("sets the work of each district against what treating its water costs, and adds up", () => {
    const planned = plan(
      [...laterals, lateralRow("G", { district: "North" })],
      [...surveys, surveyRow("G", 5)],
    );
    const { before, worth } = clearWaterByDistrict(planned);
    const own = before.flatMap((each) => (each.worth === null ? [] : [each.worth]));
    expect(own.length).toBeGreaterThan(1);
    const sum = (of: (each: (typeof own)[number]) => number) =>
      own.reduce((total, each) => total + of(each), 0);
    expect(sum(({ programPerYear }) => programPerYear)).toBeCloseTo(worth!.programPerYear, 6);
    expect(sum(({ savedPerYear }) => savedPerYear)).toBeCloseTo(worth!.savedPerYear, 6);
    // Year over season: (153·3693 + 212·2209)/(365·3693) = 1,033,337/1,347,945 = 0.766602; 79 ¢/m³; 31,536 m³ a year for each L/s.
    expect(before[0]!.treatment! / before[0]!.flow).toBeCloseTo((1_033_337 / 1_347_945) * 79 * 31_536, 3);
  });

  it("counts work that lasts ten years five times in fifty, as a level amount over ten does", () => {
    const years = Object.fromEntries(
      Object.keys(usBasis.life.years).map((work) => [work, 10]),
    ) as typeof usBasis.life.years;
    const planned = planProgram(
      programTables(laterals, surveys),
      { ...usBasis, life: { ...usBasis.life, years } },
      { problems: [], tallies: [] },
    );
    const { worth } = clearWaterByDistrict(planned);
    // Only A, of grade 4, is sealed (see above). Capital recovery at 3 % over 10 years, by hand: 0.03/(1 − 1.03⁻¹⁰) = 0.11723051;
    // over the horizon of 50 years, as if done once, it would be 0.03886550. Whole cents of present worth: half a cent in 0.1 a year.
    expect(worth!.programPerYear / numberAt(planned.laterals, "cost", 0)).toBeCloseTo(0.11723051, 7);
  });
});

describe("screening of sewersheds", () => {
  const screened = (highGroundwaterFlow: number | null, stormFlow: number | null) =>
    screenSewersheds({
      basis: {
        sewersheds: {
          North: { population: 10_000, highGroundwaterFlow, stormFlow, source: { document: "invented" } },
        },
      },
      totals: { districts: [{ district: "North", laterals: 7 }] },
    })[0]!;

  it("finds 130 gallons per person in 10,000 people with 1.30 MGD, above the limit of 120", () => {
    // 1.3e6 gal × 3.785411784 L / 86,400 s = 56.956427 L/s; rule: 40 CFR 35.2120.
    const { infiltration, inflow, laterals: here } = screened(56.956427, null);
    expect(infiltration?.gpcd).toBeCloseTo(130, 4);
    expect(infiltration?.says).toMatch(/^above 120/);
    expect(inflow).toBeNull();
    expect(here).toBe(7);
  });

  it("does not take the limit itself for more than the limit", () => {
    // 120 and 275 gal × 10,000 people × 3.785411784 L / 86,400 s.
    const at = (gpcd: number) => (gpcd * 10_000 * 3.785411784) / 86_400;
    expect(screened(at(120), at(275))).toMatchObject({
      infiltration: { exceeds: false },
      inflow: { exceeds: false },
    });
    expect(screened(at(120.1), at(275.1))).toMatchObject({
      infiltration: { exceeds: true },
      inflow: { exceeds: true },
    });
  });
});

describe("how sure the selection is", () => {
  it("keeps the first of a ranking that nothing else comes near, the same for the same seed", () => {
    // Likelihood 4 is drawn from 3.5 to 4.5, the next surveyed one, 3, from 2.5 to 3.5; building and surface are given and alike.
    const planned = plan(laterals, [...surveys, surveyRow("F", 2)]);
    const stability = selectionStability(planned, 100);
    expect(selectionStability(planned, 100)).toEqual(stability);
    expect(numberAt(planned.laterals, "rank", 0)).toBe(1);
    expect(stability.stays[0]).toBe(1);
    // D, grade 0, is last by far.
    expect(stability.stays[3]).toBe(0);
    expect(numberAt(withStability(planned, stability).laterals, "stays_selected", 0)).toBe(1);
    // As many as are above the cut are chosen in each world.
    expect(stability.stays.reduce((a, b) => a + b, 0)).toBeCloseTo(stability.cut, 9);
  });

  it("gives a lateral that nobody looked into its part of the worlds", () => {
    // F is 68 years old: likelihood 3, drawn from 2 to 4, so it passes A, drawn from 3.5 to 4.5, in a few worlds.
    const { stays } = selectionStability(plan(laterals, surveys), 200);
    expect(stays[5]).toBeGreaterThan(0);
    expect(stays[5]).toBeLessThan(0.1);
    expect(stays[0]! + stays[5]!).toBeCloseTo(1, 9);
  });

  it("is sure of everything when nothing is drawn about its value", () => {
    const planned = plan(laterals, surveys);
    const still = { ...planned.basis.rankSpreads, surveyed: 0, notSurveyed: 0, assumedPoints: 0, weights: 0 };
    const { stays, selected, overlap } = selectionStability(
      { ...planned, basis: { ...planned.basis, rankSpreads: still } },
      20,
    );
    expect([...stays]).toEqual([...selected]);
    expect(overlap).toBe(1);
  });

  it("draws 200 worlds up to 20,000 laterals and fewer above", () => {
    expect([drawsFor(1), drawsFor(20_000), drawsFor(40_000), drawsFor(1_000_000)]).toEqual([
      200, 200, 100, 20,
    ]);
  });
});
