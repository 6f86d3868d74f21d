import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  boundByLength,
  boundByMartelloToth,
  cutFirstFitDecreasing,
} from "../../src/engineering/cutting-stock.ts";
import { fewestRolls } from "../oracle/fewest-rolls.ts";

describe("cutting pieces from rolls", () => {
  it("cuts every piece once, within the roll, the longest first", () => {
    // By hand, roll 10: 7 | 6 | 4 fits beside 6 | 3 beside 7 | 2: third roll.
    const rolls = cutFirstFitDecreasing([3, 6, 4, 7, 2], 10);
    expect(rolls).toEqual([
      { pieces: [3, 0], left: 0 },
      { pieces: [1, 2], left: 0 },
      { pieces: [4], left: 8 },
    ]);
  });

  it("L2 sees what the sum does not: three pieces of 6 in rolls of 10 need three rolls, Σ/R says two", () => {
    expect(boundByLength([6, 6, 6], 10)).toBe(2);
    expect(boundByMartelloToth([6, 6, 6], 10)).toBe(3);
  });

  it("L2 at α of 4: 7, 7, 4, 4, 4 in rolls of 10 leave the two 7 alone and three 4 need two more", () => {
    // α = 4: J1 = {7, 7}, J3 = {4, 4, 4}, ⌈12/10⌉ = 2; 2 + 2 = 4. The sum of 26 says 3.
    expect(boundByLength([7, 7, 4, 4, 4], 10)).toBe(3);
    expect(boundByMartelloToth([7, 7, 4, 4, 4], 10)).toBe(4);
    expect(fewestRolls([7, 7, 4, 4, 4], 10)).toBe(4);
  });

  it("bounds and cutting enclose the optimum that exhaustive search finds", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 20 }), { maxLength: 8 }), (lengths) => {
        const best = fewestRolls(lengths, 20);
        const cut = cutFirstFitDecreasing(lengths, 20);
        expect(boundByLength(lengths, 20)).toBeLessThanOrEqual(boundByMartelloToth(lengths, 20));
        expect(boundByMartelloToth(lengths, 20)).toBeLessThanOrEqual(best);
        expect(cut.length).toBeGreaterThanOrEqual(best);
        expect(cut.length).toBeLessThanOrEqual((11 / 9) * best + 6 / 9);
        expect(cut.flatMap(({ pieces }) => pieces).sort((a, b) => a - b)).toEqual(lengths.map((_, i) => i));
        for (const { pieces, left } of cut)
          expect(pieces.reduce((sum, piece) => sum + lengths[piece]!, 0) + left).toBe(20);
      }),
      { numRuns: 300 },
    );
  });

  it("the tree takes the first roll with room, as a plain search does", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 997 }), { maxLength: 120 }), (lengths) => {
        const rests: number[] = [];
        for (const length of [...lengths].sort((a, b) => b - a)) {
          const at = rests.findIndex((rest) => rest >= length);
          if (at < 0) rests.push(997 - length);
          else rests[at]! -= length;
        }
        expect(cutFirstFitDecreasing(lengths, 997).map(({ left }) => left)).toEqual(rests);
      }),
    );
  });

  it("triplets (Falkenauer 1996): three pieces of 1/4 to 1/2 fill each roll exactly, so k rolls are the optimum", () => {
    const third = fc
      .tuple(fc.integer({ min: 380, max: 490 }), fc.integer({ min: 0, max: 1000 }))
      .map(([first, draw]) => {
        // The other two share 1000 − first, each above 250 and below 500.
        const rest = 1000 - first;
        const least = Math.max(251, rest - 499);
        const most = Math.floor(rest / 2);
        const second = least + Math.floor((draw * (most - least)) / 1000);
        return [first, second, rest - second];
      });
    fc.assert(
      fc.property(fc.array(third, { minLength: 1, maxLength: 40 }), (triplets) => {
        const lengths = triplets.flat();
        const k = triplets.length;
        expect(boundByLength(lengths, 1000)).toBe(k);
        expect(boundByMartelloToth(lengths, 1000)).toBe(k);
        const cut = cutFirstFitDecreasing(lengths, 1000).length;
        expect(cut).toBeGreaterThanOrEqual(k);
        expect(cut).toBeLessThanOrEqual((11 / 9) * k + 6 / 9);
      }),
    );
  });

  it("refuses a piece longer than the roll, and what is no whole length", () => {
    expect(() => cutFirstFitDecreasing([11], 10)).toThrow("got 11");
    expect(() => boundByLength([0.5], 10)).toThrow("got 0.5");
    expect(() => boundByMartelloToth([1], 0)).toThrow("got 0");
  });
});
