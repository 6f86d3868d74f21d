import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { attributeMove, attributeMoves, wholeShares } from "../../src/season/attribution.ts";
import { sharesByOrders } from "../oracle/shapley.ts";

/** One whole value for each of the 2ⁿ mixtures of old and new inputs. */
const games = fc.integer({ min: 0, max: 5 }).chain((groups) =>
  fc
    .array(fc.integer({ min: -25_000_000, max: 25_000_000 }), {
      minLength: 1 << groups,
      maxLength: 1 << groups,
    })
    .map((values) => ({ groups, values })),
);

describe("why a value moved", () => {
  it("is shared in a game of three with a published answer", () => {
    // Glove game, the standard example: players 1 and 2 hold left gloves, 3 a right one; a pair is worth 1. Shares 1/6, 1/6, 4/6.
    const pairs = (mask: number) => (mask & 4 && mask & 3 ? 1 : 0);
    const found = attributeMove(3, pairs);
    expect(found.numerators).toEqual([1, 1, 4]);
    expect(found.denominator).toBe(6);
  });

  it("is each one's own part when parts simply add", () => {
    const found = attributeMove(
      4,
      (mask) => 100 + (mask & 1 ? 7 : 0) + (mask & 2 ? -3 : 0) + (mask & 8 ? 40 : 0),
    );
    expect(found).toMatchObject({ before: 100, after: 144, move: 44, shares: [7, -3, 0, 40] });
  });

  it("splits a product half and half where both factors grew alike", () => {
    // Likelihood 2 → 4 and consequence 2 → 4: 4 → 16, six each.
    const score = (mask: number) => (mask & 1 ? 4 : 2) * (mask & 2 ? 4 : 2);
    expect(attributeMove(2, score)).toMatchObject({ move: 12, shares: [6, 6] });
  });

  it("is what walking every order gives", () => {
    fc.assert(
      fc.property(games, ({ groups, values }) => {
        const found = attributeMove(groups, (mask) => values[mask]!);
        const walked = sharesByOrders(groups, (mask) => values[mask]!);
        for (const [i, share] of found.shares.entries()) expect(share).toBeCloseTo(walked[i]!, 6);
      }),
    );
  });

  it("sums to the move exactly, as fractions and as whole numbers", () => {
    fc.assert(
      fc.property(games, ({ groups, values }) => {
        const found = attributeMove(groups, (mask) => values[mask]!);
        if (groups === 0) return;
        expect(found.move).toBe(values.at(-1)! - values[0]!);
        expect(found.numerators.reduce((sum, n) => sum + n, 0)).toBe(found.move * found.denominator);
        const whole = wholeShares(found);
        expect(whole.reduce((sum, n) => sum + n, 0)).toBe(found.move);
        for (const [i, n] of whole.entries()) expect(Math.abs(n - found.shares[i]!)).toBeLessThan(1);
      }),
    );
  });

  it("gives nothing to a group that changes nothing", () => {
    fc.assert(
      fc.property(games, ({ groups, values }) => {
        // One more group, whose bit is not looked at.
        const found = attributeMove(groups + 1, (mask) => values[mask & ((1 << groups) - 1)]!);
        expect(found.numerators[groups] === 0).toBe(true);
      }),
    );
  });

  it("of all laterals at once is that of each, with 2ⁿ plans in all", () => {
    let plans = 0;
    const valuesWith = (mask: number) => {
      plans++;
      return Int32Array.from([mask * 3, (mask & 1) * (mask & 2) * 5, 9]);
    };
    const found = attributeMoves(3, valuesWith);
    expect(plans).toBe(8);
    expect(found).toHaveLength(3);
    for (const [at, attribution] of found.entries())
      expect(attribution).toEqual(attributeMove(3, (mask) => valuesWith(mask)[at]!));
  });

  it("shows leftovers of whole shares with the largest remainder, earlier first", () => {
    // A move of 1 by two that are alike: halves.
    expect(wholeShares(attributeMove(2, (mask) => (mask === 3 ? 1 : 0)))).toEqual([1, 0]);
    expect(wholeShares(attributeMove(2, (mask) => (mask === 3 ? -1 : 0)))).toEqual([0, -1]);
  });

  it("takes eight groups at most, and whole values", () => {
    expect(() => attributeMove(9, () => 0)).toThrow("got 9");
    expect(() => attributeMove(1, () => 0.5)).toThrow("got 0.5");
    expect(attributeMove(8, (mask) => mask).shares.at(-1)).toBe(128);
  });
});
