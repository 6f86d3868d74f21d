import { describe, expect, it } from "vitest";
import { cohortCautions } from "../../src/cohort/cautions.ts";
import { eraOf, fitCohorts, lifeOf, type SeenLaterals } from "../../src/cohort/cohort-lives.ts";
import { RandomStream } from "../../src/engineering/random-stream.ts";

const eras = [1940, 1970];

function surveys(
  material: string,
  count: number,
  scale: number,
  from: number,
  to: number,
  seed: number,
): readonly SeenLaterals[] {
  const stream = new RandomStream(seed);
  return Array.from({ length: count }, () => {
    const installYear = Math.floor(stream.between(from, to));
    const age = 2026 - installYear;
    const bad = scale * (-Math.log(stream.next())) ** (1 / 2.5) <= age;
    return { material, installYear, age, bad, laterals: 1 };
  });
}

const city = [
  ...surveys("clay", 400, 80, 1900, 1970, 1),
  ...surveys("clay", 12, 80, 1970, 1990, 2),
  ...surveys("concrete", 20, 60, 1930, 1980, 3),
  ...surveys("", 40, 60, 1930, 1980, 4),
];

describe("cohorts of a city", () => {
  it("are named by the years in which eras begin", () => {
    expect(eraOf(1939, eras)).toBe("before 1940");
    expect(eraOf(1940, eras)).toBe("1940–1969");
    expect(eraOf(1970, eras)).toBe("from 1970");
    expect(eraOf(1970, [])).toBe("all years");
    expect(() => eraOf(Number.NaN, eras)).toThrow("NaN");
    expect(() => fitCohorts(city, [1970, 1940])).toThrow("1970, 1940");
  });

  it("are as narrow as the data allow: material and era, then material, then all", () => {
    const lives = fitCohorts(city, eras);
    expect(lifeOf("clay", 1950, lives)?.cohort).toEqual({
      by: "material and era",
      material: "clay",
      era: "1940–1969",
    });
    // Twelve young clay pipes are too few: all clay serves.
    expect(lifeOf("clay", 1980, lives)?.cohort).toEqual({ by: "material", material: "clay", era: "" });
    // Twenty concrete pipes are too few; a material never inspected and one unknown have no cohort either.
    for (const material of ["concrete", "PVC", ""])
      expect(lifeOf(material, 1950, lives)?.cohort).toEqual({ by: "all", material: "", era: "" });
    const small = lives.cohorts.find(({ by, material }) => by === "material" && material === "concrete");
    expect(small?.fit).toMatchObject({ kind: "not fitted", because: "too few inspected", inspected: 20 });
  });

  it("have none when not even all laterals will do", () => {
    expect(lifeOf("clay", 1950, fitCohorts(surveys("clay", 10, 80, 1900, 1990, 5), eras))).toBeNull();
    expect(lifeOf("clay", 1950, fitCohorts([], eras))).toBeNull();
  });

  it("do not depend on the order of the file, to the last bit", () => {
    const backwards = fitCohorts(city.toReversed(), eras);
    expect(backwards).toEqual(fitCohorts(city, eras));
    expect(structuredClone(backwards)).toEqual(backwards);
  });

  it("put unknown materials in no cohort but that of all", () => {
    const lives = fitCohorts(city, eras);
    expect(lives.cohorts.filter(({ material, by }) => material === "" && by !== "all")).toEqual([]);
    expect(lives.cohorts.at(-1)?.fit.inspected).toBe(city.length);
  });
});

describe("what biases a fit", () => {
  it("is said for complaints, renewed pipes and misread surveys, with what to do", () => {
    const codes = cohortCautions.map(({ code }) => code);
    expect(codes).toEqual(
      expect.arrayContaining(["complaint-driven inspection", "renewed pipes", "misread surveys"]),
    );
    expect(new Set(codes).size).toBe(codes.length);
  });

  it("pulls as it says: complaints up, renewals down", () => {
    const truth = surveys("clay", 20_000, 80, 1920, 2000, 6);
    const scaleOf = (seen: readonly SeenLaterals[]) => {
      const fit = lifeOf("clay", 1950, fitCohorts(seen, []))?.fit;
      return fit === undefined ? Number.NaN : fit.life.scale;
    };
    const all = scaleOf(truth);
    // Every bad one is looked into, of the others one in three: the bad seem more, so life seems shorter.
    expect(scaleOf(truth.filter(({ bad }, i) => bad || i % 3 === 0))).toBeLessThan(0.9 * all);
    // Half of the bad ones older than 60 are renewed and stand as new: life seems longer.
    const renewed = truth.filter(({ bad, age }, i) => !(bad && age > 60 && i % 2 === 0));
    expect(scaleOf(renewed)).toBeGreaterThan(1.05 * all);
  });
});
