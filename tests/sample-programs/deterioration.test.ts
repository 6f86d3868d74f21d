import { describe, expect, it } from "vitest";
import {
  connectionWear,
  gradeAt,
  operationWear,
  structuralWear,
} from "../../sample-programs/deterioration.ts";
import { hostMaterials } from "../../src/columns/lateral-columns.ts";

describe("how the invented pipes wear", () => {
  it("has half of the clay pipes at grade 3 or worse at 70 years", () => {
    // x = 70 / (70 · 1) = 1, F = 1/2.
    expect(gradeAt(structuralWear, "clay", 70, 1, 0.499)).toBeGreaterThanOrEqual(3);
    expect(gradeAt(structuralWear, "clay", 70, 1, 0.501)).toBeLessThan(3);
  });

  it("has 26 % of the clay pipes at grade 4 or worse at 70 years", () => {
    // x = 1/1.3 = 0.76923, x⁴ = 0.350128, F = 0.350128/1.350128 = 0.259330 (by hand).
    expect(gradeAt(structuralWear, "clay", 70, 1, 0.2593)).toBeGreaterThanOrEqual(4);
    expect(gradeAt(structuralWear, "clay", 70, 1, 0.2594)).toBeLessThan(4);
  });

  it("never heals with age and is never better for a weaker pipe", () => {
    for (const curve of [structuralWear, operationWear, connectionWear]) {
      for (const material of hostMaterials) {
        for (let fate = 0.01; fate < 1; fate += 0.07) {
          for (let age = 1; age < 130; age += 3) {
            const grade = gradeAt(curve, material, age, 1, fate);
            expect(grade).toBeGreaterThanOrEqual(gradeAt(curve, material, age - 1, 1, fate));
            expect(grade).toBeLessThanOrEqual(gradeAt(curve, material, age, 1, fate - 0.01));
          }
        }
      }
    }
  });

  it("refuses a pipe that is not laid yet", () => {
    expect(() => gradeAt(structuralWear, "clay", -1, 1, 0.5)).toThrow("-1");
  });
});
