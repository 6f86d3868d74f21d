import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { centrePieces, type PlacingTask, placeSections } from "../../src/engineering/section-placement.ts";
import { type Metres, metres } from "../../src/quantity/si.ts";
import { bruteForce } from "../oracle/place-sections.ts";

const stretch = (from: number, to: number) => ({ from: metres(from), to: metres(to) });
const stock = (...pieces: readonly [number, number][]) =>
  pieces.map(([length, price]) => ({ length: metres(length), price }));
const task = (differs: Partial<PlacingTask>): PlacingTask => ({
  pipe: metres(40),
  defects: [stretch(10, 11)],
  overlap: metres(1),
  stock: stock([2, 90], [3, 100], [4, 110], [6, 140], [10, 200]),
  zones: [],
  lap: null,
  fullLengthPrice: null,
  ...differs,
});
const bend = (from: number, to: number) => ({ ...stretch(from, to), bars: "liner" as const, what: "bend" });
const noEnd = (from: number, to: number) => ({ ...stretch(from, to), bars: "end" as const, what: "joint" });

/** Six pipes of 40, pieces of 2, 3, 4, 6 and 10 at 90, 100, 110, 140 and 200; each worked by hand as its comment says. */
describe("six laterals by hand", () => {
  it("one crack from 10 to 11 needs 9 to 12: one piece of 3 at 9, 100", () => {
    expect(placeSections(task({}))).toEqual({
      kind: "placed",
      pieces: [{ start: 9, length: 3 }],
      price: 100,
    });
  });

  it("two cracks 1 apart need 9 to 14: one piece of 6 at 140, not two of 3 at 200, as far left as it covers", () => {
    // 14 − 6 = 8 is the leftmost beginning; two pieces of 3 would also lie on each other.
    expect(placeSections(task({ defects: [stretch(12, 13), stretch(10, 11)] }))).toEqual({
      kind: "placed",
      pieces: [{ start: 8, length: 6 }],
      price: 140,
    });
  });

  it("two cracks 9 apart need 9 to 12 and 19 to 22: two pieces of 3 at 200, for 13 together is longer than 10", () => {
    expect(placeSections(task({ defects: [stretch(10, 11), stretch(20, 21)] }))).toEqual({
      kind: "placed",
      pieces: [
        { start: 9, length: 3 },
        { start: 19, length: 3 },
      ],
      price: 200,
    });
  });

  it("at equal price one piece of 10 beats two of 3: fewer pieces", () => {
    // 9 to 12 and 15 to 18: two of 3 cost 200; 9 to 18 is 9 long, one of 10 costs 200; leftmost 18 − 10 = 8.
    expect(placeSections(task({ defects: [stretch(10, 11), stretch(16, 17)] }))).toEqual({
      kind: "placed",
      pieces: [{ start: 8, length: 10 }],
      price: 200,
    });
  });

  it("a defect of 10 is longer than any piece covers, unless pieces may lie on each other by 1", () => {
    const long = { defects: [stretch(10, 20)] };
    expect(placeSections(task(long))).toEqual({
      kind: "impossible",
      defect: stretch(10, 20),
      because: { kind: "longer than any piece", longest: 8 },
    });
    // 9 to 21 is 12; with a lap of 1 the lengths must sum to 13: 3 + 10 at 300 or 4 + 10 at 310; 6 + 6 is only 12, and
    // three pieces cost at least 3 + 6 + 6 = 15 − 2 = 13 at 380.
    const lapped = placeSections(task({ ...long, lap: metres(1) }));
    expect(lapped.kind === "placed" ? lapped.price : lapped).toBe(300);
  });

  it("three cracks far apart cost 300 in sections, so a full length at 300 is taken: it costs no more", () => {
    const defects = [stretch(5, 6), stretch(18, 19), stretch(31, 32)];
    expect(placeSections(task({ defects, fullLengthPrice: 300 }))).toMatchObject({
      kind: "full length costs no more",
      price: 300,
      fullLengthPrice: 300,
    });
    expect(placeSections(task({ defects, fullLengthPrice: 301 })).kind).toBe("placed");
  });
});

describe("zones", () => {
  it("a bend beside the overlap pushes a longer piece to the other side", () => {
    // Needs 9 to 12, a bend from 6 to 9: the piece of 3 fits exactly between.
    const beside = placeSections(task({ zones: [bend(6, 9)] }));
    expect(beside).toMatchObject({ kind: "placed", pieces: [{ start: 9, length: 3 }] });
    // Without pieces of 3 the piece of 4 begins at 9 instead of 8.
    const longer = placeSections(task({ zones: [bend(6, 9)], stock: stock([4, 110], [6, 140]) }));
    expect(longer).toMatchObject({ kind: "placed", pieces: [{ start: 9, length: 4 }] });
  });

  it("a bend in what must be covered makes it impossible, and is named", () => {
    expect(placeSections(task({ zones: [noEnd(30, 31), bend(11, 13)] }))).toMatchObject({
      kind: "impossible",
      because: { kind: "in the way", what: "bend" },
    });
  });

  it("an end that would fall into a joint's zone moves to its edge, with a longer piece", () => {
    // The piece of 3 would begin at 9, inside 8.5 to 9.5; the piece of 4 from 8 to 12 begins outside.
    expect(placeSections(task({ zones: [noEnd(8.5, 9.5)] }))).toMatchObject({
      pieces: [{ start: 8, length: 4 }],
      price: 110,
    });
  });
});

describe("what cannot be covered", () => {
  it("a defect nearer an end than its overlap", () => {
    const at = (from: number, to: number) => placeSections(task({ defects: [stretch(from, to)] }));
    expect(at(0.5, 1.5)).toMatchObject({ because: { kind: "too near the end", end: "beginning" } });
    expect(at(38, 39.5)).toMatchObject({ because: { kind: "too near the end", end: "end" } });
    expect(at(1, 2)).toMatchObject({ kind: "placed", pieces: [{ start: 0, length: 3 }] });
  });

  it("two that a piece each could cover, when both together are too long and the pieces would lie on each other", () => {
    // 9 to 12 and 11 to 20: 11 long together.
    const both = placeSections(task({ defects: [stretch(10, 11), stretch(12, 19)] }));
    expect(both).toEqual({
      kind: "impossible",
      defect: stretch(12, 19),
      because: { kind: "too near another" },
    });
  });

  it.each([
    [{ pipe: metres(0) }, "longer than 0"],
    [{ defects: [] }, "nothing to cover"],
    [{ stock: stock([3, 0]) }, "price 0"],
    [{ lap: metres(-1) }, "lap of 0 or more"],
  ])("refuses a task that nobody should make: %j", (differs, message) => {
    expect(() => placeSections(task(differs))).toThrow(message);
  });
});

describe("brute force over whole-number pipes", () => {
  const PIPE = 13;
  const need = fc
    .tuple(fc.integer({ min: -1, max: PIPE - 1 }), fc.integer({ min: 0, max: 4 }))
    .map(([from, length]): [number, number] => [from, from + length]);
  const zone = fc.record({
    from: fc.integer({ min: 0, max: PIPE }),
    length: fc.integer({ min: 0, max: 3 }),
    bars: fc.constantFrom("liner" as const, "end" as const),
  });
  const whole = fc.record({
    needs: fc.array(need, { minLength: 1, maxLength: 4 }),
    stock: fc.uniqueArray(fc.tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 1, max: 9 })), {
      minLength: 1,
      maxLength: 3,
      selector: ([length]) => length,
    }),
    zones: fc.array(zone, { maxLength: 3 }),
    lap: fc.constantFrom(null, 0, 1, 2),
  });

  it("finds the same price, count and end, or that there is none", () => {
    let placed = 0;
    let lapped = 0;
    let none = 0;
    fc.assert(
      fc.property(whole, ({ needs, stock: pieces, zones, lap }) => {
        const placing = placeSections({
          pipe: metres(PIPE),
          defects: needs.map(([from, to]) => stretch(from, to)),
          overlap: metres(0),
          stock: stock(...pieces),
          zones: zones.map(({ from, length, bars }) => ({
            ...stretch(from, from + length),
            bars,
            what: "zone",
          })),
          lap: lap as Metres | null,
          fullLengthPrice: null,
        });
        const MOST = 5;
        const best = bruteForce(
          {
            pipe: PIPE,
            needs,
            stock: pieces,
            zones: zones.map(({ from, length, bars }) => ({ from, to: from + length, bars })),
            lap,
          },
          MOST,
        );
        if (placing.kind === "impossible") {
          none++;
          expect(best).toBeNull();
          return;
        }
        // Brute force stops at five pieces: a cheaper set of more is outside what it can say.
        if (placing.pieces.length > MOST) return;
        placed++;
        const last = placing.pieces.at(-1)!;
        expect({ price: placing.price, count: placing.pieces.length, end: last.start + last.length }).toEqual(
          best,
        );
        if (placing.pieces.some((piece, i) => piece.start < end(placing.pieces[i - 1]))) lapped++;
      }),
      { numRuns: 800, seed: 20260301 },
    );
    expect(placed).toBeGreaterThan(100);
    expect(lapped).toBeGreaterThan(10);
    expect(none).toBeGreaterThan(100);
  });

  const end = (piece: { readonly start: number; readonly length: number } | undefined) =>
    piece === undefined ? Number.NEGATIVE_INFINITY : piece.start + piece.length;
});

it("the order of defects, zones and stock never matters", () => {
  const defects = [stretch(5, 6), stretch(9, 12), stretch(18, 19), stretch(31, 32)];
  const zones = [bend(14, 15), noEnd(7, 8)];
  const one = task({ defects, zones, lap: metres(1) });
  const other = {
    ...one,
    defects: defects.toReversed(),
    zones: zones.toReversed(),
    stock: one.stock.toReversed(),
  };
  expect(placeSections(other)).toEqual(placeSections(one));
});

describe("centring", () => {
  it("shares out what a piece has to spare: 4 over 9 to 12 lies from 8.5 to 12.5", () => {
    const one = task({ stock: stock([4, 110]) });
    expect(centrePieces(one, [{ start: metres(8), length: metres(4) }])).toEqual([{ start: 8.5, length: 4 }]);
  });

  it("stops at the next piece, and leaves a piece whose middle is barred", () => {
    // The next begins at 12.5, so the first may begin from 8 to 8.5: the middle is 8.25.
    const two = task({ defects: [stretch(10, 11), stretch(14, 15)] });
    const pieces = [
      { start: metres(8), length: metres(4) },
      { start: metres(12.5), length: metres(4) },
    ];
    // The second covers 13 to 16 and may begin from 12.5 to 13.
    expect(centrePieces(two, pieces).map(({ start }) => start)).toEqual([8.25, 12.75]);
    expect(centrePieces({ ...two, zones: [noEnd(8.2, 8.3)] }, pieces)[0]?.start).toBe(8);
  });

  it("covers as much, and nothing lies on anything, whatever is placed", () => {
    const places = fc.uniqueArray(fc.integer({ min: 2, max: 36 }), { minLength: 1, maxLength: 5 });
    let placed = 0;
    fc.assert(
      fc.property(places, fc.integer({ min: 0, max: 39 }), (found, zone) => {
        const one = task({
          defects: found.map((at) => stretch(at, at + 0.5)),
          zones: [bend(zone, zone + 0.5)],
        });
        const placing = placeSections(one);
        if (placing.kind !== "placed") return;
        placed++;
        const pieces = centrePieces(one, placing.pieces);
        for (const [i, { start, length }] of pieces.entries()) {
          expect(start).toBeGreaterThanOrEqual(0);
          expect(start + length).toBeLessThanOrEqual((pieces[i + 1]?.start ?? 40) + 1e-9);
          expect(start >= zone + 0.5 - 1e-9 || start + length <= zone + 1e-9).toBe(true);
        }
        for (const at of found)
          expect(pieces.some((p) => p.start <= at - 1 + 1e-9 && p.start + p.length >= at + 1.5 - 1e-9)).toBe(
            true,
          );
      }),
    );
    // Of a hundred tries most have room.
    expect(placed).toBeGreaterThan(20);
  });
});
