import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { finished, placesOf, placesOfBytes, stableOrder } from "../../src/screen/sort-rows.ts";
import { GrowingText } from "../../src/sheet/grow.ts";

const inPlace = (count: number) => Uint32Array.from({ length: count }, (_, row) => row);

describe("stableOrder", () => {
  it("puts the smallest first, the missing last, and keeps the order of equals", () => {
    const values = Float64Array.of(3, Number.NaN, -1, 3, 0, -0, -2.5);
    expect([...stableOrder(values, inPlace(7), false)]).toEqual([6, 2, 4, 5, 0, 3, 1]);
    expect([...stableOrder(values, inPlace(7), true)]).toEqual([0, 3, 4, 5, 2, 6, 1]);
  });

  // Few rows are compared, many are sorted by their bits.
  it.each([
    ["few", 1],
    ["many", 1_001],
  ])("agrees with a comparison sort of %s doubles, infinities and subnormals among them", (_, least) => {
    const values = fc.array(fc.oneof(fc.double(), fc.integer({ min: -3, max: 3 }).map(Number)), {
      minLength: 1,
    });
    fc.assert(
      fc.property(values, fc.boolean(), (drawn, descending) => {
        const times = Math.ceil(least / drawn.length);
        const numbers = Array.from({ length: times }, () => drawn).flat();
        const compare = (a: number, b: number): number => {
          const [x, y] = [numbers[a]!, numbers[b]!];
          if (Number.isNaN(x) || Number.isNaN(y)) return Number(Number.isNaN(x)) - Number(Number.isNaN(y));
          return (x < y ? -1 : x > y ? 1 : 0) * (descending ? -1 : 1);
        };
        const expected = [...inPlace(numbers.length)].sort(compare);
        expect([...stableOrder(Float64Array.from(numbers), inPlace(numbers.length), descending)]).toEqual(
          expected,
        );
      }),
      { numRuns: least > 1 ? 25 : 100 },
    );
  });

  it("leaves what it is given as it was", () => {
    const base = Uint32Array.of(2, 0, 1);
    stableOrder(Float64Array.of(5, 4, 3), base, false);
    expect([...base]).toEqual([2, 0, 1]);
  });
});

describe("placesOf", () => {
  it("orders texts by code points, the same text in the same place", () => {
    expect([...placesOf(["b", "a", "B", "b", ""])]).toEqual([3, 2, 1, 3, 0]);
  });
});

describe("places of texts as a table keeps them", () => {
  it("are those of comparing them by code points, many or few, short or long", () => {
    const letters = fc.constantFrom("", "0", "1", "a", "B", "é", "雨", "🦆", "\u0000", "-");
    const word = (most: number) => fc.array(letters, { maxLength: most }).map((parts) => parts.join(""));
    fc.assert(
      fc.property(fc.array(word(9), { minLength: 1, maxLength: 40 }), fc.boolean(), (words, isLong) => {
        // More rows than are compared one with another, every word many times.
        const texts = Array.from({ length: 1_500 }, (_, i) => {
          const text = `L-${words[(i * 7) % words.length]}${i % 3 === 0 ? "" : (i * 31) % 97}`;
          return isLong && i === 700 ? text.repeat(9) : text;
        });
        const growing = new GrowingText();
        for (const text of texts) growing.push(text);
        const inOrder = [...new Set(texts)].sort((a, b) => Buffer.compare(Buffer.from(a), Buffer.from(b)));
        const placeOf = new Map(inOrder.map((text, place) => [text, place]));
        expect([...finished(placesOfBytes(growing.finish()))]).toEqual(
          texts.map((text) => placeOf.get(text)),
        );
      }),
      { numRuns: 40 },
    );
  });
});
