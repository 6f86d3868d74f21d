import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RandomStream } from "../../src/engineering/random-stream.ts";
import { cents, fraction } from "../../src/quantity/si.ts";
import { drawWeights, type RankCut, rankStability } from "../../src/season/rank-stability.ts";

const still = (scores: readonly number[]) => ({
  drawWorld: () => null,
  scoreOf: (row: number) => scores[row]!,
});
const top = (count: number): RankCut => ({ kind: "count", count });
const stays = (scores: readonly number[], ids: readonly string[], cut: RankCut) =>
  Array.from(
    rankStability({ ids, cut, selected: ids.map(() => 0), draws: 3, seed: 1, ...still(scores) }).stays,
  );

describe("how stable a ranking is", () => {
  it("is certain where nothing is uncertain", () => {
    expect(stays([3, 1, 2], ["a", "b", "c"], top(2))).toEqual([1, 0, 1]);
    const found = rankStability({
      ids: ["a", "b", "c"],
      cut: top(2),
      selected: [1, 0, 1],
      draws: 10,
      seed: 1,
      ...still([3, 1, 2]),
    });
    expect(found.overlap).toBe(1);
    // q = 12/14, never 0 by chance alone.
    expect(found.standardError[0]).toBeCloseTo(Math.sqrt(((12 / 14) * (2 / 14)) / 14), 12);
  });

  it("breaks ties by id and takes scores of a millionth apart as equal", () => {
    expect(stays([5, 5 + 4e-7, 5], ["c", "b", "a"], top(2))).toEqual([0, 1, 1]);
    expect(stays([5, 5 + 2e-6, 5], ["c", "b", "a"], top(1))).toEqual([0, 1, 0]);
  });

  it("cuts a budget at the first that does not fit, and passes over what has no price or no score", () => {
    const budget = (amount: number, costs: readonly number[]): RankCut => ({
      kind: "budget",
      budget: cents(amount),
      costs,
    });
    const ids = ["a", "b", "c", "d"];
    expect(stays([9, 8, 7, 6], ids, budget(100, [60, 50, 10, 10]))).toEqual([1, 0, 0, 0]);
    expect(stays([9, 8, 7, 6], ids, budget(100, [60, Number.NaN, 40, 10]))).toEqual([1, 0, 1, 0]);
    expect(stays([9, Number.NaN, 7, 6], ids, top(2))).toEqual([1, 0, 1, 0]);
    expect(stays([Number.NaN, Number.NaN, Number.NaN, Number.NaN], ids, top(2))).toEqual([0, 0, 0, 0]);
  });

  it("draws the same worlds when a lateral is added at the end that cannot be ranked", () => {
    const ask = (ids: readonly string[]) =>
      rankStability({
        ids,
        cut: top(2),
        selected: ids.map(() => 1),
        draws: 100,
        seed: 9,
        drawWorld: (stream) => stream.next(),
        scoreOf: (row, world, stream) => (ids[row] === "z" ? Number.NaN : row * world + stream.next()),
      });
    const three = ask(["a", "b", "c"]);
    const four = ask(["a", "b", "c", "z"]);
    expect([...four.stays]).toEqual([...three.stays, 0]);
    expect(three.overlap).toBeCloseTo(2 / 3, 12);
    expect(four.overlap).toBeCloseTo(1 / 2, 12);
  });

  it("never picks a lateral without a score, however few are left", () => {
    const found = rankStability({
      ids: ["a", "b"],
      cut: top(2),
      selected: [1, 1],
      draws: 3,
      seed: 1,
      ...still([Number.NaN, 4]),
    });
    expect([...found.stays]).toEqual([0, 1]);
    expect(found.overlap).toBe(0.5);
  });

  it("of two laterals with even scores that overlap by half is one in eight for the lower", () => {
    // Even on 0 … 1 against even on 0.5 … 1.5: P(lower wins) = (0.5 × 0.5)/2 = 0.125.
    const found = rankStability({
      ids: ["low", "high"],
      cut: top(1),
      selected: [0, 1],
      draws: 20_000,
      seed: 3,
      drawWorld: () => null,
      scoreOf: (row, _, stream) => stream.between(row * 0.5, row * 0.5 + 1),
    });
    // Standard error √(0.125 × 0.875/20 000) = 0.0023; four of them.
    expect(Math.abs(found.stays[0]! - 0.125)).toBeLessThan(0.0094);
    expect(found.standardError[0]).toBeCloseTo(0.0023, 3);
    expect(found.overlap).toBeCloseTo(found.stays[1]!, 12);
  });

  it("has a standard error as large as repeated runs scatter", () => {
    const run = (seed: number) =>
      rankStability({
        ids: ["low", "high"],
        cut: top(1),
        selected: [0, 1],
        draws: 400,
        seed,
        drawWorld: () => null,
        scoreOf: (row, _, stream) => stream.between(row * 0.3, row * 0.3 + 1),
      });
    const shares = Array.from({ length: 200 }, (_, seed) => run(seed).stays[0]!);
    const mean = shares.reduce((sum, s) => sum + s, 0) / shares.length;
    const scatter = Math.sqrt(shares.reduce((sum, s) => sum + (s - mean) ** 2, 0) / shares.length);
    // P(lower wins) = 0.7²/2 = 0.245. A scatter from 200 runs is known to 5 %; four of them.
    expect(Math.abs(mean - 0.245)).toBeLessThan(0.006);
    expect(Math.abs(scatter / run(0).standardError[0]! - 1)).toBeLessThan(0.2);
  });

  it("is the same for the same seed and for the file in any order, and not for another seed", () => {
    const ids = Array.from({ length: 40 }, (_, i) => `L${i}`);
    const ask = (order: readonly string[], seed: number) => {
      const found = rankStability({
        ids: order,
        cut: top(10),
        selected: order.map(() => 0),
        draws: 50,
        seed,
        drawWorld: (stream) => drawWeights([0.6, 0.4], fraction(0.5), stream),
        scoreOf: (row, [a, b], stream) => {
          const n = Number(order[row]!.slice(1));
          return a! * (n % 7) + b! * stream.triangular(n % 3, n % 5 > 2 ? n % 3 : (n % 3) + 1, (n % 3) + 2);
        },
      });
      return new Map(order.map((id, row) => [id, found.stays[row]!]));
    };
    const asFiled = ask(ids, 1);
    const shuffled = ask(
      ids.toSorted((a, b) => (a.at(-1)! + a < b.at(-1)! + b ? 1 : -1)),
      1,
    );
    for (const id of ids) expect(shuffled.get(id)).toBe(asFiled.get(id));
    expect([...ask(ids, 2)]).not.toEqual([...asFiled]);
  });

  it("lies in 0 … 1 and comes to the count of the cut", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 25, noNaN: true }), { minLength: 1, maxLength: 30 }),
        fc.nat(30),
        (scores, count) => {
          const found = rankStability({
            ids: scores.map((_, i) => `${i}`),
            cut: top(count),
            selected: scores.map(() => 1),
            draws: 5,
            seed: 1,
            drawWorld: () => null,
            scoreOf: (row, _, stream) => scores[row]! + stream.next(),
          });
          const sum = found.stays.reduce((total, p) => total + p, 0);
          expect(sum).toBeCloseTo(Math.min(count, scores.length), 9);
          expect(found.stays.every((p) => p >= 0 && p <= 1)).toBe(true);
          expect(found.overlap).toBeCloseTo(Math.min(count, scores.length) / scores.length, 9);
        },
      ),
    );
  });

  it("refuses two laterals of one id and scores too far apart to pack", () => {
    expect(() => stays([1, 2], ["a", "a"], top(1))).toThrow('"a" twice');
    expect(() => stays([1, 1e10], ["a", "b"], top(1))).toThrow("too far apart");
    expect(() => stays([1], ["a"], top(-1))).toThrow("-1");
  });
});

describe("weights that may be argued about", () => {
  it("still add up to 1, and stand where there is nothing to argue", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.01, max: 1, noNaN: true }), { minLength: 1, maxLength: 8 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.integer(),
        (weights, spread, seed) => {
          const drawn = drawWeights(weights, fraction(spread), new RandomStream(seed));
          expect(drawn.reduce((sum, w) => sum + w, 0)).toBeCloseTo(1, 12);
          expect(drawn.every((w) => w >= 0)).toBe(true);
        },
      ),
    );
    expect(drawWeights([0.75, 0.25], fraction(0), new RandomStream(1))).toEqual([0.75, 0.25]);
    expect(() => drawWeights([0, 0], fraction(0.1), new RandomStream(1))).toThrow("0, 0");
  });
});
