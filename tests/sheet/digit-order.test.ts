import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sortedByDigit, sortedByNumber } from "../../src/sheet/digit-order.ts";

/** Some rows of ten, in any order. */
const someRows = fc.shuffledSubarray([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
/** Few different ones, so that some are alike, and any. */
const tenOf = <T>(few: readonly T[], any: fc.Arbitrary<T>) =>
  fc.array(fc.oneof(fc.constantFrom(...few), any), { minLength: 10, maxLength: 10 });

describe("rows in the order of a number of theirs", () => {
  it("are ascending, those alike in the order given, of doubles of any size and sign", () => {
    const few = [-0, 1, -1, 1.5, 2 ** 53, -(2 ** -1074), Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    fc.assert(
      fc.property(someRows, tenOf(few, fc.double({ noNaN: true })), (rows, numbers) => {
        // Zero is one number here, as whoever sorts sees to it.
        const values = Float64Array.from(numbers, (number) => number + 0);
        const expected = rows.toSorted((a, b) =>
          values[a]! < values[b]! ? -1 : values[a]! > values[b]! ? 1 : 0,
        );
        expect([...sortedByNumber(Uint32Array.from(rows), values)]).toEqual(expected);
      }),
    );
  });

  it("are so by digits too, and leave what they were given as it was", () => {
    fc.assert(
      fc.property(someRows, tenOf([0, 65_535], fc.nat(65_535)), (rows, digits) => {
        const given = Uint32Array.from(rows);
        const sorted = sortedByDigit(given, Uint16Array.from(digits));
        expect([...sorted]).toEqual(rows.toSorted((a, b) => digits[a]! - digits[b]!));
        expect([...given]).toEqual(rows);
      }),
    );
  });
});
