import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pointsOf, raisedScore, weightedScore } from "../../src/engineering/weighted-score.ts";

const parts = (points: readonly number[], weights: readonly number[]) =>
  points.map((p, i) => ({ points: p, weight: weights[i]! / 100 }));

// City of Santa Ana CA, Water and Sewer Rate Study 2014, Table B-10: consequence by diameter in inches.
const diameterSteps = [
  { from: 0, points: 0 },
  { from: 6, points: 1 },
  { from: 8, points: 2 },
  { from: 10, points: 3 },
  { from: 12, points: 4 },
  { from: 14, points: 5 },
  { from: 16, points: 6 },
  { from: 18, points: 7 },
  { from: 20, points: 8 },
  { from: 24, points: 9 },
  { from: 36, points: 10 },
];

describe("a weighted score", () => {
  it("of San Marcos' weights is 2.80 for points of 5, 3, 4, 2, 3 and 1", () => {
    // City of San Marcos TX, Reuse Asset Management Plan, February 2016, Table 5.1: opinion, repairs, age, duty and maintenance 15 each,
    // redundancy 25. Points invented: 0.15 × (5 + 3 + 4 + 2 + 3) + 0.25 × 1 = 2.80.
    expect(weightedScore(parts([5, 3, 4, 2, 3, 1], [15, 15, 15, 15, 15, 25]))).toBeCloseTo(2.8, 12);
    // Its consequence weights add up as well: safety 35, revenue 20, repair 20, effluent 25.
    expect(weightedScore(parts([4, 4, 4, 4], [35, 20, 20, 25]))).toBeCloseTo(4, 12);
  });

  it("of Santa Ana's rows 126 and 127 is 7.6 × 7.0 = 53.2", () => {
    // Same study, Tables B-9 and p. 142: 18 in cast iron of 1939, cohort rank 3 of 5. Cohort 60 %, doubled to 10; vintage before 1940
    // scores 10, 40 %.
    const likelihood = weightedScore(parts([2 * 3, 10], [60, 40]));
    const consequence = pointsOf(18, diameterSteps)!;
    expect(likelihood).toBeCloseTo(7.6, 12);
    expect(consequence).toBe(7);
    expect(likelihood * consequence).toBeCloseTo(53.2, 12);
  });

  it("is raised by repeated failures and critical customers, up to the end of the scale", () => {
    // Same tables: one failure +1, two or more +2; one customer +1, two +2; most 10.
    expect(raisedScore(7.6, 1, 10)).toBeCloseTo(8.6, 12);
    expect(raisedScore(9.6, 2, 10)).toBe(10);
    expect(pointsOf(30, diameterSteps)).toBe(9);
    expect(pointsOf(3, diameterSteps.slice(1))).toBeNull();
  });

  it("lies between its least and most points", () => {
    const list = fc.array(
      fc.tuple(fc.double({ min: 0, max: 10, noNaN: true }), fc.integer({ min: 1, max: 50 })),
      {
        minLength: 1,
        maxLength: 8,
      },
    );
    fc.assert(
      fc.property(list, (pairs) => {
        const sum = pairs.reduce((total, [, w]) => total + w, 0);
        const score = weightedScore(pairs.map(([points, w]) => ({ points, weight: w / sum })));
        expect(score).toBeGreaterThanOrEqual(Math.min(...pairs.map(([p]) => p)) - 1e-9);
        expect(score).toBeLessThanOrEqual(Math.max(...pairs.map(([p]) => p)) + 1e-9);
      }),
    );
  });

  it("refuses weights that do not add up, and missing points", () => {
    expect(() => weightedScore(parts([1, 2], [50, 40]))).toThrow("0.5 + 0.4");
    expect(() => weightedScore(parts([1, 2], [150, -50]))).toThrow("1.5 + -0.5");
    expect(() => weightedScore(parts([1, Number.NaN], [50, 50]))).toThrow("1, NaN");
  });
});
