import { describe, expect, it } from "vitest";
import { betaBelow, betaQuantile } from "../../src/engineering/incomplete-beta.ts";
import { latinHypercube, sampleQuantile } from "../../src/engineering/latin-hypercube.ts";
import {
  normalBelow,
  pertMoments,
  type SpreadShape,
  spreadQuantile,
} from "../../src/engineering/pert-distribution.ts";

/**
 * Activities A to F with their predecessors: A; B and C after A; D after B; E after B and C; F after D and E. Least, best, most.
 * Source: PM Knowledge Center, article on PERT, table 1 (pmknowledgecenter.be).
 */
const activities = {
  A: { least: 2, best: 5, most: 8 },
  B: { least: 1, best: 2, most: 9 },
  C: { least: 0.25, best: 0.5, most: 3.75 },
  D: { least: 1, best: 1, most: 7 },
  E: { least: 1, best: 2, most: 9 },
  F: { least: 1, best: 3, most: 11 },
} as const;
type Name = keyof typeof activities;
const paths = ["ABEF", "ABDF", "ACEF"] as const;
const lengthOf = (path: string, of: (name: Name) => number): number =>
  [...path].reduce((sum, name) => sum + of(name as Name), 0);

const DRAWS = 40_000;
function simulate(shape: SpreadShape) {
  const drawn = Object.fromEntries(
    (Object.keys(activities) as Name[]).map((name, i) => [
      name,
      latinHypercube(DRAWS, 12345, i).map((u) => spreadQuantile(shape, activities[name], u)),
    ]),
  ) as Record<Name, Float64Array>;
  const critical = { ABEF: 0, ABDF: 0, ACEF: 0 };
  const ends = Float64Array.from({ length: DRAWS }, (_, i) => {
    const lengths = paths.map((path) => lengthOf(path, (name) => drawn[name][i]!));
    const longest = Math.max(...lengths);
    critical[paths[lengths.indexOf(longest)]!]++;
    return longest;
  });
  const mean = ends.reduce((sum, end) => sum + end, 0) / DRAWS;
  const variance = ends.reduce((sum, end) => sum + (end - mean) ** 2, 0) / (DRAWS - 1);
  const sorted = ends.toSorted();
  return {
    mean,
    deviation: Math.sqrt(variance),
    quantile: (p: number) => sampleQuantile(sorted, p),
    below18: ends.filter((end) => end <= 18).length / DRAWS,
    critical: (path: keyof typeof critical) => critical[path] / DRAWS,
  };
}

describe("PERT by the classic rule", () => {
  it("gives the published example: 5 3 1 2 3 4, critical A-B-E-F of mean 15, variance 7.3333, 0.8660 by day 18", () => {
    const of = (name: Name) => pertMoments(activities[name]);
    expect((Object.keys(activities) as Name[]).map((name) => of(name).mean)).toEqual([5, 3, 1, 2, 3, 4]);
    expect(paths.map((path) => lengthOf(path, (name) => of(name).mean))).toEqual([15, 14, 13]);
    const variance = lengthOf("ABEF", (name) => of(name).variance);
    // Four decimals are published.
    expect(variance).toBeCloseTo(7.3333, 4);
    expect(normalBelow(18, 15, variance)).toBeCloseTo(0.866, 4);
  });
});

describe("the same network by draws", () => {
  // Plain draws have standard errors of 2.73/√40000 = 0.014 in the mean, and √(p(1 − p)/40000) ≤ 0.0025 in a share; a quantile's is
  // √(p(1 − p)/n)/density: 0.02 at P50, 0.03 at P80 and 0.04 at P90. Four of them, and half of the last digit given.
  const within = (got: number, expected: number, error: number) =>
    expect(Math.abs(got - expected)).toBeLessThan(4 * error + 0.005);

  it("beta-PERT of shape 4: mean 15.24, deviation 2.73, P50 15.09, P80 17.53, P90 18.85, 0.841 by day 18", () => {
    // Expected: a million draws of another program, stated with the published network.
    const got = simulate("beta-PERT");
    within(got.mean, 15.24, 0.014);
    within(got.deviation, 2.73, 0.012);
    within(got.quantile(0.5), 15.09, 0.02);
    within(got.quantile(0.8), 17.53, 0.03);
    within(got.quantile(0.9), 18.85, 0.04);
    within(got.below18, 0.841, 0.002);
    within(got.critical("ABEF"), 0.704, 0.0023);
    within(got.critical("ABDF"), 0.254, 0.0022);
    within(got.critical("ACEF"), 0.043, 0.001);
  });

  it("triangular on the same points: mean 18.53, P80 21.44, 0.457 by day 18, so the choice must be shown", () => {
    const got = simulate("triangular");
    within(got.mean, 18.53, 0.018);
    within(got.quantile(0.8), 21.44, 0.035);
    within(got.below18, 0.457, 0.0025);
  });
});

describe("the beta distribution", () => {
  it("agrees with its closed forms", () => {
    // I_x(3, 3) = x³(10 − 15x + 6x²); I_x(1, b) = 1 − (1 − x)^b; I_x(a, 1) = x^a.
    for (const x of [0.01, 0.2, 0.5, 0.77, 0.99]) {
      expect(betaBelow(x, 3, 3)).toBeCloseTo(x ** 3 * (10 - 15 * x + 6 * x * x), 13);
      expect(betaBelow(x, 1, 5)).toBeCloseTo(1 - (1 - x) ** 5, 13);
      expect(betaBelow(x, 2.5, 1)).toBeCloseTo(x ** 2.5, 13);
    }
  });

  it("turned around gives back the probability", () => {
    for (const p of [0.0005, 0.1, 0.5, 0.9, 0.9995])
      for (const [a, b] of [
        [1, 5],
        [3, 3],
        [1.5, 4.5],
        [5, 1],
      ] as const)
        expect(betaBelow(betaQuantile(p, a, b), a, b)).toBeCloseTo(p, 11);
  });

  it("has the classic mean and the variance (μ − a)(b − μ)/7 when drawn as beta-PERT", () => {
    const points = activities.B;
    const n = 20_000;
    const values = latinHypercube(n, 7, 0).map((u) => spreadQuantile("beta-PERT", points, u));
    const mean = values.reduce((sum, value) => sum + value, 0) / n;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / n;
    // One draw in every strip: the mean is off by less than a strip, 8/20000.
    expect(mean).toBeCloseTo(3, 3);
    expect(variance).toBeCloseTo((2 * 6) / 7, 2);
  });
});

describe("a Latin hypercube", () => {
  it("has one draw in every strip, the same for the same seed and another for another variable", () => {
    const one = latinHypercube(500, 3, 1);
    expect(Array.from(one.toSorted(), (u) => Math.floor(u * 500))).toEqual(
      Array.from({ length: 500 }, (_, i) => i),
    );
    expect(latinHypercube(500, 3, 1)).toEqual(one);
    expect(latinHypercube(500, 3, 2)).not.toEqual(one);
    expect(latinHypercube(500, 4, 1)).not.toEqual(one);
  });

  it("gives quantiles between neighbours by straight line", () => {
    // Definition 7 by hand: of 1, 2, 4, 8 the P50 is at h = 1.5, so 3; P90 at h = 2.7, so 4 + 0.7·4.
    expect(sampleQuantile([1, 2, 4, 8], 0.5)).toBe(3);
    expect(sampleQuantile([1, 2, 4, 8], 0.9)).toBeCloseTo(6.8, 12);
  });
});
