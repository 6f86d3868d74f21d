import fc from "fast-check";
import { describe, expect, it } from "vitest";
import modes from "../../shared/failure-modes.json" with { type: "json" };
import {
  blockageChance,
  priorOfCohort,
  rateBand,
  updateBlockageRate,
} from "../../src/engineering/gamma-poisson.ts";
import { RandomStream } from "../../src/engineering/random-stream.ts";
import { fraction } from "../../src/quantity/si.ts";
import { posteriorByGrid } from "../oracle/poisson-tail.ts";

const level = fraction(0.9);
const noCalls = fraction(0);

describe("a blockage rate", () => {
  it("is updated as in the textbook example of a rate of 3 in 5", () => {
    // Gelman et al., Bayesian Data Analysis, 2.6, from memory: Gamma(3, 5) with 3 deaths in exposure 2 becomes Gamma(6, 7), mean 0.86;
    // with 30 in exposure 20, Gamma(33, 25), mean 1.32. Arithmetic checked.
    const prior = { mean: 0.6, strengthYears: 5 };
    const one = updateBlockageRate(prior, { backups: 3, otherCalls: 0, years: 2 }, noCalls);
    expect(one.shape).toBeCloseTo(6, 12);
    expect(one.rate).toBe(7);
    expect(rateBand(one, level).best).toBeCloseTo(0.86, 2);
    const ten = updateBlockageRate(prior, { backups: 30, otherCalls: 0, years: 20 }, noCalls);
    expect(ten).toEqual({ shape: 33, rate: 25 });
    expect(rateBand(ten, level).best).toBe(1.32);
  });

  it("lies with nine tenths between 0.0321 and 0.3482 for shape 2.3 and rate 15", () => {
    // SciPy 1.17.1: gamma.ppf([0.05, 0.95], 2.3, scale=1/15).
    const band = rateBand({ shape: 2.3, rate: 15 }, level);
    expect(band.least).toBeCloseTo(0.03213385, 8);
    expect(band.most).toBeCloseTo(0.34820011, 8);
  });

  it("is what Bayes' rule on a grid of rates gives, next year's chance too", () => {
    const found = updateBlockageRate(
      { mean: 0.4, strengthYears: 5 },
      { backups: 2, otherCalls: 0, years: 3 },
      noCalls,
    );
    // The grid is fine enough for five digits.
    const grid = posteriorByGrid(0.4, 5, 2, 3);
    expect(rateBand(found, level).best).toBeCloseTo(grid.mean, 5);
    expect(blockageChance(found, level).best).toBeCloseTo(1 - grid.none, 5);
  });

  it("counts a call as its share of a blockage, and rises with each event and falls with each quiet year", () => {
    const prior = { mean: 0.05, strengthYears: 10 };
    const share = fraction(modes.blockage.callShare);
    const at = (backups: number, otherCalls: number, years: number) =>
      rateBand(updateBlockageRate(prior, { backups, otherCalls, years }, share), level).best;
    // Hand calculation: (0.5 + 1 + 0.3 × 2)/(10 + 4) = 0.15.
    expect(at(1, 2, 4)).toBeCloseTo(0.15, 12);
    fc.assert(
      fc.property(fc.nat(9), fc.nat(9), fc.integer({ min: 0, max: 40 }), (backups, calls, years) => {
        expect(at(backups + 1, calls, years)).toBeGreaterThan(at(backups, calls, years));
        expect(at(backups, calls + 1, years)).toBeGreaterThan(at(backups, calls, years));
        expect(at(backups, calls, years + 1)).toBeLessThan(at(backups, calls, years));
      }),
    );
  });

  it("gives probabilities in order, however little is known", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-4, max: 2, noNaN: true }),
        fc.double({ min: 0.1, max: 200, noNaN: true }),
        fc.nat(20),
        fc.double({ min: 0, max: 50, noNaN: true }),
        (mean, strengthYears, backups, years) => {
          const rate = updateBlockageRate(
            { mean, strengthYears },
            { backups, otherCalls: 0, years },
            noCalls,
          );
          const { least, best, most } = blockageChance(rate, level);
          expect(least).toBeGreaterThanOrEqual(0);
          expect(least).toBeLessThanOrEqual(best);
          expect(best).toBeLessThanOrEqual(most);
          expect(most).toBeLessThanOrEqual(1);
        },
      ),
    );
  });

  it("of the shipped table rises with the operation and maintenance grade", () => {
    const rates = modes.blockage.ratePerYear;
    expect(rates).toHaveLength(6);
    for (let grade = 1; grade < 6; grade++) expect(rates[grade]).toBeGreaterThan(rates[grade - 1]!);
  });

  it("needs a prior, and counts that can be", () => {
    expect(() =>
      updateBlockageRate({ mean: 0, strengthYears: 5 }, { backups: 0, otherCalls: 0, years: 1 }, noCalls),
    ).toThrow("0 a year");
    expect(() =>
      updateBlockageRate({ mean: 1, strengthYears: 5 }, { backups: -1, otherCalls: 0, years: 1 }, noCalls),
    ).toThrow("-1");
    expect(() => rateBand({ shape: 1, rate: 1 }, fraction(1))).toThrow("got 1");
  });
});

describe("the prior of a cohort", () => {
  /** A Poisson count by waiting times. */
  const count = (mean: number, stream: RandomStream): number => {
    let n = 0;
    let waited = -Math.log(stream.next());
    while (waited < mean) {
      n++;
      waited -= Math.log(stream.next());
    }
    return n;
  };

  const oneEach = (laterals: number, events: number) =>
    Array.from({ length: laterals }, (_, i) => Number(i < events));
  const evenly = (laterals: number, expected: number) =>
    Array.from({ length: laterals }, () => expected / laterals);

  it("is worked out by hand for thirty laterals of which half blocked four times", () => {
    // k = 60/30 = 2. Σ(n − 2)² = 30 · 4 = 120, less Σn = 60, over ΣE² = 30: σ² = 2, so s = 2/2 = 1.
    const events = Array.from({ length: 30 }, (_, i) => (i % 2 === 0 ? 4 : 0));
    expect(priorOfCohort(events, new Array(30).fill(1))).toEqual({
      kind: "prior",
      laterals: 30,
      events: 60,
      expected: 30,
      prior: { factor: 2, strengthInExpected: 1 },
    });
  });

  it("refuses counts that cannot be", () => {
    for (const [events, expected] of [
      [-1, 1],
      [1, -1],
      [Number.NaN, 1],
      [1, Number.POSITIVE_INFINITY],
    ] as const)
      expect(() => priorOfCohort([events], [expected])).toThrow("counts and expected ones of 0 or more");
    expect(() => blockageChance({ shape: 1, rate: 1 }, fraction(0))).toThrow("got 0");
  });

  it("finds the mean and the spread that the records were made with", () => {
    const stream = new RandomStream(4);
    // Gamma with shape 2 is the sum of two exponentials: mean 2/20 = 0.1, strength 20.
    const laterals = 20_000;
    const expected = Array.from({ length: laterals }, () => 10);
    const events = expected.map((t) => {
      const rate = -(Math.log(stream.next()) + Math.log(stream.next())) / 20;
      return count(rate * t, stream);
    });
    const found = priorOfCohort(events, expected);
    if (found.kind !== "prior") throw new Error("expected a prior");
    // Standard errors of 20 000 laterals: mean about 0.0009 (var of n/10 is 0.015), strength a few per cent; three of each.
    expect(Math.abs(found.prior.factor - 0.1)).toBeLessThan(0.003);
    expect(Math.abs(found.prior.strengthInExpected / 20 - 1)).toBeLessThan(0.15);
  });

  it("is worth no more than what was expected of the cohort, when the counts scatter no more than chance", () => {
    const events = Array.from({ length: 40 }, (_, i) => (i % 4 === 0 ? 1 : 0));
    const expected = events.map(() => 5);
    // 10 events where 200 are expected; Σ(n − 0.25)² = 7.5, less than the 10 that chance gives.
    expect(priorOfCohort(events, expected)).toEqual({
      kind: "prior",
      prior: { factor: 0.05, strengthInExpected: 200 },
      laterals: 40,
      events: 10,
      expected: 200,
    });
  });

  it("is worth no more than that either when they scatter a hair more", () => {
    // 51 laterals of which 5 each are expected: one with 2 events, eight with 1. m = 10/255; Σ(n − 5m)² = 12 − 100/51, less 10: 2/51 over 51 × 25; so
    // s would be 1 275.
    const events = Array.from({ length: 51 }, (_, i) => (i === 0 ? 2 : i <= 8 ? 1 : 0));
    const found = priorOfCohort(
      events,
      events.map(() => 5),
    );
    expect(found).toMatchObject({ kind: "prior", prior: { strengthInExpected: 255 } });
  });

  it("is not made of a handful", () => {
    expect(priorOfCohort([1, 2, 3], [5, 5, 5])).toEqual({
      kind: "too little",
      laterals: 3,
      events: 6,
      expected: 15,
    });
    // Four seen and 4.9 expected: neither says much.
    expect(priorOfCohort(oneEach(100, 4), evenly(100, 4.9))).toMatchObject({ kind: "too little", events: 4 });
    expect(() => priorOfCohort([1], [0])).toThrow("1 events where 0 are expected");
  });

  it("is the cohort's own where it blocks far less than expected, not one of a wider cohort", () => {
    // PVC of the sample Quennock Falls, counted outside the program: 2 blockages of 108 laterals where the table expects 7.85.
    // Were the factor 1.45, as all the city's, two or fewer of 11.4 would have a chance of 0.0009.
    const found = priorOfCohort(oneEach(108, 2), evenly(108, 7.85));
    if (found.kind !== "prior") throw new Error("expected a prior");
    expect(found.prior.factor).toBeCloseTo(2 / 7.85, 12);
    expect(found.prior.strengthInExpected).toBeCloseTo(7.85, 12);
  });

  it("counts no blockage at all as half a one, so that a rate is never nothing", () => {
    expect(priorOfCohort(oneEach(60, 0), evenly(60, 6))).toMatchObject({
      kind: "prior",
      prior: { factor: expect.closeTo(0.5 / 6, 12) },
    });
  });
});
