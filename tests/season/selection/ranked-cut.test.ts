import { describe, expect, it } from "vitest";
import { rankedCut } from "../../../src/season/selection/ranked-cut.ts";
import { judgeOffers, offerFates } from "../../../src/season/selection/usable-offers.ts";
import { readCurve } from "../../../src/season/selection/vary.ts";
import { seasonFromArrays } from "./season-from-arrays.ts";

const planned = Int32Array.from([0, 1, 2, 3]);

describe("the ranked cut", () => {
  it("takes what fits in the order of the ranking and passes over the rest", () => {
    // 60 + 10 to open; 50 no longer fits in 30; 25 does; 10 no longer fits in 5.
    const problem = seasonFromArrays({
      worth: [1, 9, 9, 9],
      cost: [60, 50, 25, 10],
      money: 100,
      mobilization: [10],
    });
    expect([...rankedCut(problem, [0, 1, 2, 3], planned)]).toEqual([0, -1, 2, -1]);
  });

  it("does first what must be done, and nothing before what it needs", () => {
    const problem = seasonFromArrays({
      worth: [1, 1, 1, 1],
      cost: [40, 40, 40, 10],
      money: 100,
      must: [2],
      needs: [[0, 3]],
    });
    // 2 first; 0 needs 3, which ranks behind it; 1 fits; 3 fits.
    expect([...rankedCut(problem, [0, 1, 2, 3], planned)]).toEqual([-1, 1, 2, 3]);
  });
});

describe("offers nobody needs", () => {
  it("are those that alone do not fit, gain nothing, or are dominated", () => {
    const one = seasonFromArrays({
      worth: [9, 0, 5, 5],
      cost: [95, 1, 20, 20],
      money: 100,
      mobilization: [10],
    });
    // All four as offers of one lateral.
    const problem = {
      ...one,
      firstOffer: Uint32Array.from([0, 4]),
      district: Uint32Array.of(0),
      must: Uint8Array.of(0),
      mustNot: Uint8Array.of(0),
    };
    expect([...judgeOffers(problem)].map((fate) => offerFates[fate])).toEqual([
      "fits no season",
      "gains nothing",
      "usable",
      "dominated",
    ]);
    expect(offerFates[judgeOffers({ ...problem, mustNot: Uint8Array.of(1) })[2]!]).toBe("must not");
  });
});

describe("a curve", () => {
  it("has its knee where it stands highest over the line from end to end, and says what a further unit adds", () => {
    const points = [
      { amount: 0, worth: 0, gap: 0 },
      { amount: 10, worth: 80, gap: 0 },
      { amount: 20, worth: 90, gap: 0 },
      { amount: 40, worth: 100, gap: 0 },
    ];
    const curve = readCurve(points);
    // Heights over the chord: 0.8 − 0.25 = 0.55, 0.9 − 0.5 = 0.4.
    expect(curve.knee).toBe(10);
    expect(curve.marginal).toEqual([8, 1, 0.5, null]);
  });

  it("has none where it is straight, and never falls by what is left unproven", () => {
    const straight = [0, 1, 2].map((amount) => ({ amount, worth: amount * 3, gap: 0 }));
    expect(readCurve(straight).knee).toBeNull();
    const falling = readCurve([
      { amount: 1, worth: null, gap: Number.NaN },
      { amount: 2, worth: 100, gap: 0.01 },
      { amount: 3, worth: 99.5, gap: 0.01 },
    ]);
    expect(falling.points.map(({ worth }) => worth)).toEqual([null, 100, 100]);
    expect(falling.marginal).toEqual([null, 0, null]);
  });
});
