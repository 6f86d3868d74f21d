import { describe, expect, it } from "vitest";
import { foundCity, type SampleLateral } from "../../sample-programs/city-model.ts";
import { sampleStyles } from "../../sample-programs/city-spec.ts";
import { citySpecs } from "../../sample-programs/write-city.ts";
import { readQuickRating, writeQuickRating } from "../../src/engineering/quick-rating.ts";

const LATERALS = 8_000;
const cities = sampleStyles.map((style) => {
  const city = foundCity(citySpecs[style], LATERALS, 11);
  return { style, city, laterals: Array.from({ length: LATERALS }, (_, i) => city.lateralAt(i)) };
});
const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const lastGrade = (lateral: SampleLateral) => lateral.surveys.at(-1)!.structuralGrade;

describe.each(cities)("an invented city in $style units", ({ city, laterals }) => {
  it("makes a lateral the same alone as in a row", () => {
    expect(foundCity(city.spec, LATERALS, 11).lateralAt(4_321)).toEqual(laterals[4_321]);
  });

  it("is another city with another seed", () => {
    expect(foundCity(city.spec, LATERALS, 12).lateralAt(4_321)).not.toEqual(laterals[4_321]);
  });

  it("gives each district its share, to the lateral", () => {
    for (const district of city.spec.districts) {
      const count = laterals.filter((lateral) => lateral.district === district).length;
      expect(Math.abs(count - district.share * LATERALS)).toBeLessThanOrEqual(1);
    }
  });

  it("makes a city of one lateral, and refuses one of none", () => {
    expect(foundCity(city.spec, 1, 1).lateralAt(0).index).toBe(0);
    expect(() => foundCity(city.spec, 0, 1)).toThrow("0");
  });

  it("has older laterals in a worse state, material by material", () => {
    for (const material of ["clay", "concrete", "cast iron"] as const) {
      const surveyed = laterals.filter(
        (lateral) => lateral.material === material && lateral.surveys.length > 0,
      );
      const old = surveyed.filter((lateral) => lateral.installYear < 1940);
      const newer = surveyed.filter((lateral) => lateral.installYear >= 1950);
      expect(Math.min(old.length, newer.length)).toBeGreaterThan(30);
      expect(mean(old.map(lastGrade))).toBeGreaterThan(mean(newer.map(lastGrade)) + 0.5);
    }
  });

  it("has grade, roots and connection worse together than chance", () => {
    const surveys = laterals.flatMap((lateral) =>
      lateral.material === "clay" ? lateral.surveys.slice(-1) : [],
    );
    const poor = surveys.filter((survey) => survey.structuralGrade >= 4);
    const fair = surveys.filter((survey) => survey.structuralGrade <= 2);
    expect(mean(poor.map((survey) => survey.omGrade))).toBeGreaterThan(
      mean(fair.map((survey) => survey.omGrade)) + 0.5,
    );
  });

  it("has more backups where the operation grade is bad", () => {
    const backupsAt = (...grades: number[]) =>
      mean(
        laterals
          .filter((lateral) => grades.includes(lateral.surveys.at(-1)?.omGrade ?? -1))
          .map((l) => l.backups),
      );
    expect(backupsAt(0, 1)).toBeLessThan(backupsAt(2, 3));
    expect(backupsAt(2, 3)).toBeLessThan(backupsAt(4, 5));
  });

  it("has quick ratings whose first character is the grade", () => {
    for (const { surveys } of laterals) {
      for (const survey of surveys) {
        for (const [grade, counts] of [
          [survey.structuralGrade, survey.structural],
          [survey.omGrade, survey.om],
        ] as const) {
          const quick = writeQuickRating(counts);
          expect(readQuickRating(quick).kind).toBe("rating");
          expect(quick[0]).toBe(String(grade));
        }
      }
    }
  });

  it("has none to three surveys, in order, in three seasons, each after the pipe was laid", () => {
    expect(new Set(laterals.map((lateral) => lateral.surveys.length))).toEqual(new Set([0, 1, 2, 3]));
    for (const { surveys, installYear } of laterals) {
      for (const [i, survey] of surveys.entries()) {
        if (i > 0) expect(survey.on).toBeGreaterThan(surveys[i - 1]!.on);
        expect(installYear).toBeLessThan(2023);
      }
    }
  });

  it("has surveys cut short for each reason, that name one and cover less", () => {
    const reasons = new Set<string>();
    for (const { surveys, length } of laterals) {
      for (const survey of surveys) {
        expect(survey.complete).toBe(survey.stoppedBecause === null);
        if (survey.stoppedBecause !== null) {
          reasons.add(survey.stoppedBecause);
          expect(survey.surveyed).toBeLessThan(0.9 * length);
        }
      }
    }
    expect([...reasons].toSorted()).toEqual(["bend", "camera", "collapse", "root ball", "water level"]);
  });

  it("has later surveys that found worse", () => {
    const worse = laterals.filter(({ surveys }) =>
      surveys.some((survey, i) => i > 0 && survey.structuralGrade > surveys[i - 1]!.structuralGrade),
    );
    expect(worse.length).toBeGreaterThan(20);
  });

  it("clears most of the laterals that a camera passed, and knows little of the rest", () => {
    const share = (part: readonly SampleLateral[]) =>
      part.filter((lateral) => lateral.crossBore === "cleared").length / part.length;
    expect(
      share(laterals.filter(({ surveys }) => surveys.some((survey) => survey.complete))),
    ).toBeGreaterThan(0.7);
    expect(share(laterals.filter(({ surveys }) => surveys.length === 0))).toBeLessThan(0.15);
  });

  it("falls to the main, stays in the ground and lies on both sides of its street", () => {
    for (const { coverMain, coverHouse, length } of laterals) {
      expect(coverHouse).toBeGreaterThanOrEqual(0.4);
      expect(coverHouse).toBeLessThanOrEqual(Math.max(0.4, coverMain - 0.01 * length) + 1e-12);
    }
    const [first, second] = laterals;
    expect(first!.address.replace(/\d+/, "")).toBe(second!.address.replace(/\d+/, ""));
    // One to the north, one to the south of the main, each a lateral's length away.
    expect(first!.y - second!.y).toBeCloseTo(0.95 * (first!.length + second!.length), 6);
  });

  it("gives no two laterals of a district one address", () => {
    const seen = new Set(laterals.map((lateral) => `${lateral.district.name} ${lateral.address}`));
    expect(seen.size).toBe(LATERALS);
  });
});
