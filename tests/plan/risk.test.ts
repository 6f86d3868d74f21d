import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readCondition } from "../../src/plan/condition.ts";
import { usualScores } from "../../src/plan/recipe.ts";
import { scoreRisk } from "../../src/plan/risk.ts";
import { city, lateral, survey, usBasis } from "./examples.ts";

function riskOf(of: ReturnType<typeof lateral>) {
  const condition = readCondition(of, usBasis.program.asOf, 10, 30);
  return scoreRisk(of, condition, usBasis.risk, usBasis.assumptions, usBasis.program.asOf, usualScores);
}

describe("scoreRisk", () => {
  it("multiplies likelihood and consequence from the tables", () => {
    // Structural 4 → 4; house 2 and street 5 at weights 0.6 and 0.4 → 1.2 + 2.0 = 3.2; 4 × 3.2 = 12.8.
    const risk = riskOf(lateral({ inspections: [survey({ structuralGrade: 4 })] }));
    expect(risk.likelihood?.value).toBe(4);
    expect(risk.consequence?.value).toBeCloseTo(3.2, 12);
    expect(risk.score).toBeCloseTo(12.8, 12);
  });

  it("adds half a point for one backup, one for two or more, and stops at 5", () => {
    const likelihood = (structuralGrade: number, backups: number) =>
      riskOf(lateral({ inspections: [survey({ structuralGrade })], backups: city(backups) })).likelihood
        ?.value;
    expect(likelihood(3, 0)).toBe(3);
    expect(likelihood(3, 1)).toBe(3.5);
    expect(likelihood(3, 2)).toBe(4);
    expect(likelihood(3, 9)).toBe(4);
    expect(likelihood(5, 9)).toBe(5);
  });

  it("estimates an uninspected lateral from its age and marks it assumed", () => {
    const risk = (year: number | null) =>
      riskOf(lateral({ inspections: [], installYear: year === null ? null : city(year) })).likelihood;
    expect(risk(1958)).toMatchObject({ value: 3, origin: "assumed" });
    expect(risk(1951)?.value).toBe(4);
    expect(risk(2020)?.value).toBe(1);
    expect(risk(null)).toMatchObject({ value: 3, origin: "assumed" });
  });

  it("marks the consequence assumed when building or surface is not given, and names which", () => {
    const risk = riskOf(lateral({ building: null }));
    expect(risk.consequence).toMatchObject({ origin: "assumed", because: "Building served" });
  });

  it("stays from 1 to 25, and a worse grade never lowers it", () => {
    const grade = fc.integer({ min: 0, max: 5 });
    fc.assert(
      fc.property(grade, grade, grade, fc.nat(4), (structuralGrade, better, omGrade, backups) => {
        const score = (grade: number) =>
          riskOf(
            lateral({ inspections: [survey({ structuralGrade: grade, omGrade })], backups: city(backups) }),
          ).score ?? Number.NaN;
        const [low, high] = [
          score(Math.min(structuralGrade, better)),
          score(Math.max(structuralGrade, better)),
        ];
        expect(low).toBeGreaterThanOrEqual(1);
        expect(high).toBeLessThanOrEqual(25);
        expect(high).toBeGreaterThanOrEqual(low);
      }),
    );
  });
});
