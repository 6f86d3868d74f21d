import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Observation } from "../../src/plan/lateral.ts";
import { countDefects, rateSurvey } from "../../src/plan/survey-ratings.ts";
import { metres } from "../../src/quantity/si.ts";
import { ratingOfDefects } from "../oracle/rating-by-counting.ts";
import { observation, survey } from "./examples.ts";

const many = (count: number, grade: number): Observation[] =>
  Array.from({ length: count }, () => observation({ grade }));
const rate = (
  observations: readonly Observation[] | null,
  structuralQuick = "",
  grade: number | null = null,
) => rateSurvey(survey({ observations, structuralQuick, structuralGrade: grade }), "structural");

describe("the ratings of a survey by its observations", () => {
  // a, b: one hole and five holes of grade 4, the scenario of the grading scheme's public explanation, 12 July 2023.
  // d, h: invented; hand arithmetic 17·4 + 7·2 = 82, 82/24 = 3.4167.
  it.each([
    ["a", many(1, 4), "4100", 4, 4],
    ["b", many(5, 4), "4500", 20, 4],
    ["d", [...many(17, 4), ...many(7, 2)], "4B27", 82, 82 / 24],
    ["h", [observation({ kind: "start", mode: "inventory", grade: null })], "0000", 0, null],
  ] as const)("example %s", (_, observations, quick, rating, index) => {
    const rated = rate(observations, quick);
    expect(rated).toMatchObject({
      computed: quick,
      agrees: true,
      by: "observations",
      rating: { least: rating, most: rating },
    });
    if (index === null) expect(rated?.index).toBeNull();
    else expect(rated?.index?.least).toBeCloseTo(index, 12);
  });

  it("example c: 5236 alone gives bounds, and observations say what it hides", () => {
    // City of Santa Ana CA, Sewer Rate Study, 2014, p. 240: two of grade 5, six of grade 3. 2·5 + 6·3 = 28 at least, and
    // the mean grade at most 28/8 = 3.5.
    expect(rate(null, "5236")).toMatchObject({
      by: "quick rating",
      rating: { least: 28, most: Infinity },
      index: { least: 1, most: 3.5 },
    });
    // With nine more of grade 2 the same quick rating has a pipe rating of 28 + 18 = 46.
    expect(rate([...many(2, 5), ...many(6, 3), ...many(9, 2)], "5236")).toMatchObject({
      computed: "5236",
      agrees: true,
      rating: { least: 46, most: 46 },
    });
  });

  it("say when they disagree with the rating stated, and keep the wider bounds of both", () => {
    const rated = rate(many(1, 4), "4300");
    expect(rated).toMatchObject({ computed: "4100", agrees: false, rating: { least: 4, most: 12 } });
    expect(countDefects(rated)).toMatchObject({ least: 1, most: 3, span: null });
  });

  it("never take a list that lacks the stated grade for the whole truth", () => {
    const rated = rate(many(1, 4), "", 5);
    expect(rated?.agrees).toBe(false);
    expect(countDefects(rated)).toMatchObject({ least: 1, most: Infinity, span: null });
  });

  it("are only bounds where a kind or a grade is not known", () => {
    const unknown = observation({ kind: "Q70", mode: "unknown", grade: null });
    expect(countDefects(rate([...many(1, 4), unknown]))).toMatchObject({ least: 1, most: 2, span: null });
    expect(rate([...many(1, 4), unknown])?.computed).toBeNull();
    // A stated quick rating still bounds it.
    expect(countDefects(rate([...many(1, 4), unknown], "4100"))).toMatchObject({ least: 1, most: 1 });
    // Grade 0 is no defect, whatever it is.
    expect(rate([...many(1, 4), { ...unknown, grade: 0 }], "4100")?.agrees).toBe(true);
  });

  it("count a defect once however long, and say what length it takes", () => {
    // 6 m continuous: 6/1.524 = 3.9, so four occurrences for the rating, one defect to cover.
    const crack = observation({ kind: "fracture", grade: 4, from: metres(2), to: metres(8) });
    const rated = rate([crack]);
    expect(rated?.computed).toBe("4400");
    expect(countDefects(rated)).toEqual({ least: 1, most: 1, span: 6, by: "observations" });
    // The same, written from its far end.
    expect(countDefects(rate([{ ...crack, from: metres(8), to: metres(2) }]))?.span).toBe(6);
    expect(countDefects(rate([{ ...crack, from: null, to: null }]))?.span).toBeNull();
  });

  it("say nothing where there is neither a rating nor an observation", () => {
    expect(rate(null)).toBeNull();
    expect(countDefects(null)).toBeNull();
  });

  it("agree with counting one by one, and do not depend on the order of rows", () => {
    const grades = fc.array(fc.integer({ min: 0, max: 5 }), { maxLength: 40 });
    fc.assert(
      fc.property(grades, fc.integer(), (list, turn) => {
        const seen = list.map((grade, i) => observation({ grade, from: metres(i / 10) }));
        const at = list.length === 0 ? 0 : Math.abs(turn) % list.length;
        const turned = [...seen.slice(at), ...seen.slice(0, at)];
        const rated = rate(seen);
        expect(rated?.computed).toBe(ratingOfDefects(list.filter((grade) => grade > 0)));
        expect(countDefects(rate(turned))).toEqual(countDefects(rated));
        expect(rate(turned)?.rating).toEqual(rated?.rating);
      }),
    );
  });
});
