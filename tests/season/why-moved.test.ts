import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { RankedLateral } from "../../src/season/compare-rankings.ts";
import { explainMoves } from "../../src/season/why-moved.ts";
import { sharesByOrders } from "../oracle/shapley.ts";

const ranking = (scores: ReadonlyMap<string, number>): readonly RankedLateral[] =>
  [...scores]
    .sort(([a, x], [b, y]) => y - x || (a < b ? -1 : 1))
    .map(([id, score], place) => ({ id, score, selected: place < 2 }));

const ids = ["a", "b", "c", "d", "e"];
/** Scores of five laterals in each of the 2ⁿ worlds. */
const worlds = fc.integer({ min: 0, max: 3 }).chain((groups) =>
  fc
    .array(fc.array(fc.integer({ min: 1, max: 25 }), { minLength: 5, maxLength: 5 }), {
      minLength: 1 << groups,
      maxLength: 1 << groups,
    })
    .map((scores) => ({
      groups,
      worldOf: (mask: number) => ranking(new Map(ids.map((id, i) => [id, scores[mask]![i]!]))),
    })),
);

describe("why laterals moved", () => {
  it("adds up to the move of each, in places and in score, and is what walking every order gives", async () => {
    await fc.assert(
      fc.asyncProperty(worlds, async ({ groups, worldOf }) => {
        const { comparison, whyOf } = await explainMoves(groups, async (mask) => worldOf(mask));
        for (const { id, places, scoreMove } of comparison.movers) {
          const why = whyOf(id);
          expect(why.places.move).toBe(places);
          expect(why.score!.move).toBe(scoreMove);
          for (const { move, numerators, denominator } of [why.places, why.score!])
            expect(numerators.reduce((sum, n) => sum + n, 0)).toBe(move * denominator);
          const placeWith = (mask: number) => -worldOf(mask).findIndex((of) => of.id === id);
          const byOrders = sharesByOrders(groups, placeWith);
          // Sums of at most 3! thirds and sixths of whole numbers below 100: exact to 1e-12.
          for (const [i, share] of why.places.shares.entries()) expect(share).toBeCloseTo(byOrders[i]!, 12);
        }
      }),
    );
  });

  it("counts places among the laterals of both rankings, so that a new one moves nobody", async () => {
    // a 20, b 10 before; a new n at 30 and b at 25 after: b passes a, n is in neither count.
    const old = new Map([
      ["a", 20],
      ["b", 10],
    ]);
    const fresh = new Map([
      ["n", 30],
      ["b", 25],
      ["a", 20],
    ]);
    const { comparison, whyOf } = await explainMoves(1, async (mask) => ranking(mask === 0 ? old : fresh));
    expect(comparison.added).toEqual(["n"]);
    expect(whyOf("b").places).toMatchObject({ before: -1, after: 0, move: 1, numerators: [1] });
    expect(whyOf("a").score?.move).toBe(0);
    expect(() => whyOf("n")).toThrow("n");
  });

  it("shares the places of a lateral without a score, and no score", async () => {
    const scored = { id: "a", score: 5, selected: false };
    const worlds = [
      [scored, { id: "b", score: null, selected: false }],
      [{ id: "b", score: 9, selected: false }, scored],
    ];
    const { whyOf } = await explainMoves(1, async (mask) => worlds[mask]!);
    expect(whyOf("b")).toMatchObject({ places: { move: 1, numerators: [1] }, score: null });
    expect(whyOf("a").score).toMatchObject({ move: 0 });
  });

  it("refuses a mixture that lost a lateral", async () => {
    const whole = ranking(
      new Map([
        ["a", 2],
        ["b", 1],
      ]),
    );
    await expect(explainMoves(2, async (mask) => (mask === 1 ? whole.slice(0, 1) : whole))).rejects.toThrow(
      "1 of 2",
    );
  });
});
