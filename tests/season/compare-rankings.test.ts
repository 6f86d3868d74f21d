import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareRankings, type RankedLateral } from "../../src/season/compare-rankings.ts";
import { rhoByCounting, tauByPairs } from "../oracle/rank-pairs.ts";

/** A ranking of these scores, worst first, ties by id; the first `funded` are selected. */
const ranking = (scores: Readonly<Record<string, number>>, funded: number): readonly RankedLateral[] =>
  Object.entries(scores)
    .sort(([a, x], [b, y]) => y - x || (a < b ? -1 : 1))
    .map(([id, score], place) => ({ id, score, selected: place < funded }));

describe("two rankings compared", () => {
  it("say who moved how far and who came in or dropped out", () => {
    const found = compareRankings(
      ranking({ a: 20, b: 16, c: 12, d: 8 }, 2),
      ranking({ a: 20, b: 9, c: 12, d: 15 }, 2),
    );
    // a b c d → a d c b.
    expect(found.movers).toEqual([
      {
        id: "b",
        from: 2,
        to: 4,
        places: -2,
        scoreFrom: 16,
        scoreTo: 9,
        scoreMove: -7,
        selection: "dropped out",
      },
      { id: "d", from: 4, to: 2, places: 2, scoreFrom: 8, scoreTo: 15, scoreMove: 7, selection: "came in" },
    ]);
    expect(found.selected).toEqual({ before: 2, after: 2, both: 1, overlap: 0.5 });
  });

  it("agree by the laterals that have a score in both, where a recipe leaves some without", () => {
    const of = (list: readonly (readonly [string, number | null])[]) =>
      list.map(([id, score]) => ({ id, score, selected: false }));
    const found = compareRankings(
      of([
        ["a", 20],
        ["b", 16],
        ["c", 12],
        ["d", null],
        ["e", null],
      ]),
      of([
        ["b", 18],
        ["a", 15],
        ["d", 9],
        ["c", null],
        ["e", null],
      ]),
    );
    expect([found.inBoth, found.scoredInBoth]).toEqual([5, 2]);
    // Of a and b alone: 20 > 16 before, 15 < 18 after.
    expect([found.tauB, found.rho]).toEqual([-1, -1]);
    const moves = found.movers.map(({ id, scoreFrom, scoreTo, scoreMove }) => [
      id,
      scoreFrom,
      scoreTo,
      scoreMove,
    ]);
    expect(moves.sort()).toEqual([
      ["a", 20, 15, -5],
      ["b", 16, 18, 2],
      ["c", 12, null, null],
      ["d", null, 9, null],
    ]);
  });

  it("list laterals of one ranking apart, and let them move nobody", () => {
    const found = compareRankings(
      ranking({ a: 20, b: 16, gone: 14, c: 12 }, 1),
      ranking({ fresh: 25, a: 20, b: 16, c: 12 }, 1),
    );
    expect(found.gone).toEqual(["gone"]);
    expect(found.added).toEqual(["fresh"]);
    expect(found.inBoth).toBe(3);
    expect(found.tauB).toBe(1);
    // a keeps its place among a, b, c; it only lost the one seat to the new one.
    expect(found.movers).toEqual([
      {
        id: "a",
        from: 1,
        to: 2,
        places: 0,
        scoreFrom: 20,
        scoreTo: 20,
        scoreMove: 0,
        selection: "dropped out",
      },
    ]);
    expect(found.selected.overlap).toBe(0);
  });

  it("agree as the published example does: tau-b −0.4714", () => {
    // SciPy 1.17.1 documentation: x = 12 2 1 12 2, y = 1 4 7 1 0.
    const scores = (values: readonly number[]) => Object.fromEntries(values.map((v, i) => [`L${i}`, v]));
    const found = compareRankings(ranking(scores([12, 2, 1, 12, 2]), 0), ranking(scores([1, 4, 7, 1, 0]), 0));
    expect(found.tauB).toBeCloseTo(-0.47140452079103173, 15);
    expect(found.selected.overlap).toBeNull();
  });

  it("measure what looking at every pair measures, and move as many places up as down", () => {
    const scores = fc.array(fc.tuple(fc.integer({ min: 1, max: 25 }), fc.integer({ min: 1, max: 25 })), {
      minLength: 2,
      maxLength: 30,
    });
    fc.assert(
      fc.property(scores, (pairs) => {
        const name = (i: number) => `L${i}`;
        const found = compareRankings(
          ranking(Object.fromEntries(pairs.map(([x], i) => [name(i), x])), 5),
          ranking(Object.fromEntries(pairs.map(([, y], i) => [name(i), y])), 5),
        );
        const x = pairs.map(([a]) => a);
        const y = pairs.map(([, b]) => b);
        expect(found.tauB).toBe(tauByPairs(x, y));
        const rho = rhoByCounting(x, y);
        if (rho === null) expect(found.rho).toBeNull();
        else expect(found.rho).toBeCloseTo(rho, 9);
        expect(found.movers.reduce((sum, { places }) => sum + places, 0)).toBe(0);
      }),
    );
  });

  it("of one ranking with itself find nothing", () => {
    const same = ranking({ a: 20, b: 16, c: 12 }, 2);
    const found = compareRankings(same, same);
    expect(found).toMatchObject({ movers: [], gone: [], added: [], tauB: 1 });
    expect(found.rho).toBeCloseTo(1, 15);
    expect(found.selected.overlap).toBe(1);
  });

  it("refuse a ranking that lists a lateral twice", () => {
    const twice = [...ranking({ a: 1 }, 0), ...ranking({ a: 2 }, 0)];
    expect(() => compareRankings(twice, [])).toThrow('"a" twice');
  });
});
