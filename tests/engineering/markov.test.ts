import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  expectedGrade,
  gradesAfter,
  judgeChain,
  meanStay,
  meanStepsToWorst,
  withClassZero,
} from "../../src/engineering/markov.ts";
import { chainPower, stepsBySumming } from "../oracle/chain-walk.ts";

// PhD thesis, Univ. Twente, ch. 5, Fig. 5.1: city of Breda, five severity classes. Results worked out independently from these rows.
const single = [
  [0.955, 0.045, 0, 0, 0],
  [0, 0.972, 0.028, 0, 0],
  [0, 0, 0.979, 0.021, 0],
  [0, 0, 0, 0.988, 0.012],
  [0, 0, 0, 0, 1],
];
const multi = [
  [0.9571, 0.0347, 0.0074, 0.0006, 0.0002],
  [0, 0.9995, 0.0005, 0, 0],
  [0, 0, 0.9999, 0.0001, 0],
  [0, 0, 0, 0.9999, 0.0001],
  [0, 0, 0, 0, 1],
];
const newPipe = [1, 0, 0, 0, 0];

describe("a deterioration chain", () => {
  it.each([
    [1, [0.955, 0.045, 0, 0, 0], 1.045],
    [10, [0.631006, 0.322317, 0.043985, 0.002633, 0.000059], 1.41842],
    [50, [0.100039, 0.375039, 0.344901, 0.151599, 0.028422], 2.633326],
  ])("after %d steps", (steps, shares, grade) => {
    const found = gradesAfter(newPipe, steps, single);
    for (const [i, share] of shares.entries()) expect(found[i]).toBeCloseTo(share, 6);
    expect(expectedGrade(found)).toBeCloseTo(grade, 6);
  });

  it("from grade 3 after 10 steps", () => {
    const found = gradesAfter([0, 0, 1, 0, 0], 10, single);
    for (const [i, share] of [0, 0, 0.808774, 0.180841, 0.010385].entries())
      expect(found[i]).toBeCloseTo(share, 6);
  });

  it("stays 22, 36, 48 and 83 steps, and for ever in the worst", () => {
    const stay = meanStay(single);
    for (const [i, steps] of [22.22, 35.71, 47.62, 83.33].entries()) expect(stay[i]).toBeCloseTo(steps, 2);
    expect(stay[4]).toBe(Infinity);
  });

  it("reaches the worst after 189, 167, 131 and 83 steps on average", () => {
    const steps = meanStepsToWorst(single);
    for (const [i, mean] of [188.89, 166.67, 130.95, 83.33, 0].entries())
      expect(steps[i]).toBeCloseTo(mean, 2);
    expect(steps[0]).toBeCloseTo(stepsBySumming(single, 0), 6);
    expect(steps[2]).toBeCloseTo(stepsBySumming(single, 2), 6);
  });

  it("that takes 21 400 years to fail is no use for planning", () => {
    // A step taken as a year, by assumption; 300 years is this project's own limit.
    const verdict = judgeChain(multi, 1, 300);
    expect(verdict).toMatchObject({ kind: "too slow to plan with", limit: 300 });
    // "About 21 400", to three figures.
    expect(Math.abs(verdict.yearsToWorst - 21_400)).toBeLessThan(50);
    expect(judgeChain(single, 1, 300)).toEqual({ kind: "usable", yearsToWorst: expect.closeTo(188.89, 2) });
    expect(judgeChain(single, 2, 300).kind).toBe("too slow to plan with");
  });

  const chains = fc
    .array(fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 4, maxLength: 4 }), {
      minLength: 4,
      maxLength: 4,
    })
    .map((rows) =>
      rows.map((row, i) => {
        const kept = row.map((weight, j) => (j < i ? 0 : weight));
        const sum = kept.reduce((total, weight) => total + weight, 0);
        return kept.map((weight) => weight / sum);
      }),
    );

  it("walked step by step is its matrix raised to a power, and never gets better", () => {
    fc.assert(
      fc.property(chains, fc.nat(40), (chain, steps) => {
        const found = gradesAfter([1, 0, 0, 0], steps, chain);
        const power = chainPower(chain, steps)[0]!;
        for (const [i, share] of found.entries()) expect(share).toBeCloseTo(power[i]!, 12);
        const later = expectedGrade(gradesAfter([1, 0, 0, 0], steps + 1, chain));
        expect(later).toBeGreaterThanOrEqual(expectedGrade(found) - 1e-12);
      }),
    );
  });

  it("has the mean steps that summing over time gives, jumps included", () => {
    fc.assert(
      fc.property(chains, (chain) => {
        const mean = meanStepsToWorst(chain);
        for (const i of [0, 1, 2]) expect(mean[i]! / stepsBySumming(chain, i)).toBeCloseTo(1, 9);
      }),
    );
  });

  it("that never leaves a middle grade may never fail", () => {
    const stuck = [
      [0.9, 0.1, 0],
      [0, 1, 0],
      [0, 0, 1],
    ];
    expect(meanStepsToWorst(stuck)).toEqual([Infinity, Infinity, 0]);
  });

  it("refuses rows that are no probabilities, and repair where it is not meant", () => {
    expect(() =>
      gradesAfter([1, 0], 1, [
        [0.9, 0.2],
        [0, 1],
      ]),
    ).toThrow("0.9 0.2");
    expect(() =>
      gradesAfter([0.5, 0], 1, [
        [0.9, 0.1],
        [0, 1],
      ]),
    ).toThrow("0.5 0");
    expect(() =>
      gradesAfter([1, 0], 1.5, [
        [0.9, 0.1],
        [0, 1],
      ]),
    ).toThrow("1.5");
    const repaired = [
      [0.9, 0.1, 0],
      [0.1, 0.8, 0.1],
      [0, 0, 1],
    ];
    expect(() => meanStepsToWorst(repaired)).toThrow("row 2");
    const tooMuch = [
      [0.9, 0.2],
      [0, 1],
    ];
    expect(() => meanStay(tooMuch)).toThrow("0.9 0.2");
    expect(() => meanStepsToWorst(tooMuch)).toThrow("0.9 0.2");
  });

  it("has a class of pipes without a defect before grade 1, left at the share that does not stay", () => {
    const five = Array.from({ length: 5 }, (_, i) => Array.from({ length: 5 }, (_, j) => Number(i === j)));
    const six = withClassZero(five, 0.75);
    expect(six).toHaveLength(6);
    expect(six[0]).toEqual([0.75, 0.25, 0, 0, 0, 0]);
    expect(six[3]).toEqual([0, 0, 0, 1, 0, 0]);
    for (const stays of [-0.01, 1.01, Number.NaN])
      expect(() => withClassZero(five, stays)).toThrow("class 0");
    expect(() => withClassZero(six, 0.75)).toThrow("got 6");
  });
});
