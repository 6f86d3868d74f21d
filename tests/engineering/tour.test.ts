import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findTour, shortestTour, tourLength } from "../../src/engineering/tour.ts";
import { shortestByTrying } from "../oracle/shortest-tour.ts";

/** TSPLIB burma14 (G. Reinelt, "TSPLIB - a traveling salesman problem library", ORSA J. Computing 3, 1991): degrees.minutes. */
const burma14: readonly (readonly [number, number])[] = [
  [16.47, 96.1],
  [16.47, 94.44],
  [20.09, 92.54],
  [22.39, 93.37],
  [25.23, 97.24],
  [22.0, 96.05],
  [20.47, 97.02],
  [17.2, 96.29],
  [16.3, 97.38],
  [14.05, 98.12],
  [16.53, 97.38],
  [21.52, 95.59],
  [19.41, 97.13],
  [20.09, 94.55],
];

/** TSPLIB's GEO distance: PI = 3.141592, R = 6378.388 km, cut to whole km after adding 1. */
function geoDistance(a: readonly [number, number], b: readonly [number, number]): number {
  const radians = (x: number) => {
    const degrees = Math.trunc(x);
    return ((3_141_592 / 1e6) * (degrees + (5 * (x - degrees)) / 3)) / 180;
  };
  const [latA, lonA, latB, lonB] = [radians(a[0]), radians(a[1]), radians(b[0]), radians(b[1])];
  const q1 = Math.cos(lonA - lonB);
  const q2 = Math.cos(latA - latB);
  const q3 = Math.cos(latA + latB);
  return Math.trunc(6378.388 * Math.acos(0.5 * ((1 + q1) * q2 - (1 - q1) * q3)) + 1);
}

const inBurma = (i: number, j: number) => (i === j ? 0 : geoDistance(burma14[i]!, burma14[j]!));

describe("a tour", () => {
  it("of burma14 is 3323, the published optimum, by going through all sets", () => {
    expect(tourLength(shortestTour(14, inBurma), inBurma)).toBe(3323);
  });

  it("of burma14 is within 5 % of 3323 by nearest neighbour, 2-opt and Or-opt", () => {
    // 5 %: what 2-opt with Or-opt is known to stay within of the optimum on average (D. S. Johnson, L. A. McGeoch, 1997).
    const length = tourLength(findTour(14, inBurma), inBurma);
    expect(length).toBeGreaterThanOrEqual(3323);
    expect(length).toBeLessThanOrEqual(3323 * 1.05);
  });

  const places = fc.array(fc.tuple(fc.integer({ min: 0, max: 100 }), fc.integer({ min: 0, max: 100 })), {
    minLength: 1,
    maxLength: 7,
  });
  const between = (points: readonly (readonly [number, number])[]) => (i: number, j: number) =>
    Math.hypot(points[i]![0] - points[j]![0], points[i]![1] - points[j]![1]);

  it("through a handful of places is as short as every order tried", () => {
    fc.assert(
      fc.property(places, (points) => {
        const distance = between(points);
        const found = tourLength(findTour(points.length, distance), distance);
        expect(found).toBeCloseTo(shortestByTrying(points.length, distance), 9);
      }),
      { numRuns: 60 },
    );
  });

  it("goes through each of many places once, from the first, and no 2-opt step is left in it", () => {
    const many = fc.array(fc.tuple(fc.nat(1000), fc.nat(1000)), { minLength: 10, maxLength: 60 });
    fc.assert(
      fc.property(many, (points) => {
        const distance = between(points);
        const tour = findTour(points.length, distance);
        expect(tour[0]).toBe(0);
        expect([...tour].sort((a, b) => a - b)).toEqual(points.map((_, i) => i));
        const n = tour.length;
        for (let i = 0; i < n - 2; i++)
          for (let j = i + 2; j < n; j++) {
            const [a, b, c, d] = [tour[i]!, tour[i + 1]!, tour[j]!, tour[(j + 1) % n]!];
            if (a === d) continue;
            expect(distance(a, c) + distance(b, d)).toBeGreaterThanOrEqual(
              distance(a, b) + distance(c, d) - 1e-6,
            );
          }
      }),
      { numRuns: 60 },
    );
  });
});
