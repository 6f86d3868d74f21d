import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isNumeric, type Measure, quantities } from "../../src/quantity/measure.ts";
import { dateStyles } from "../../src/quantity/show-date.ts";
import { type NumberStyle, showNumber } from "../../src/quantity/show-quantity.ts";
import { cellsWith } from "../../src/screen/column-search.ts";
import { GrowingNumbers, GrowingText, GrowingWords } from "../../src/sheet/grow.ts";
import { type ColumnData, numberAt, type Table, textAt } from "../../src/sheet/table.ts";

/** Every measure there is: the type has no list of its own, so the compiler says when one is missing here. */
const plainMeasures = {
  count: 0,
  grade: 0,
  points: 0,
  factor: 0,
  degrees: 0,
  days: 0,
  year: 0,
  coordinate: 0,
  date: 0,
  flag: 0,
  code: 0,
  text: 0,
} satisfies Record<Exclude<Measure, keyof typeof quantities>, 0>;
const measures = [...Object.keys(quantities), ...Object.keys(plainMeasures)] as Measure[];

const us: NumberStyle = { units: "us", currency: "USD" };

const oddTexts = [
  "",
  "L-0012",
  "12 Über den Gärten",
  "\u212alein", // the kelvin sign is a k in lower case
  "\u0130STANBUL", // a dotted capital I becomes two characters
  "ΟΔΟΣ ΣΟΣ", // a sigma at the end of a word is another
  "STRASSE straße",
  "u\u0308ber", // a mark of its own
  "AAAB aaab",
  "ab\u00e9ab\u212a",
  "pipe 😀 joint",
  "\ufeffmark of order",
  "a\u0000b\u0007",
];
const oddNumbers = [
  Number.NaN,
  0,
  -0,
  1,
  -1,
  -0.04,
  0.05,
  1.005,
  1234.5,
  -98_765_432.1,
  1e-7,
  1e21,
  -1e300,
  Number.POSITIVE_INFINITY,
  Number.NEGATIVE_INFINITY,
  20_000,
  -800_000,
];

const texts = fc.array(fc.oneof(fc.constantFrom(...oddTexts), fc.string({ unit: "binary", maxLength: 9 })), {
  minLength: 1,
});
const numbers = fc.array(
  fc.oneof(
    fc.constantFrom(...oddNumbers),
    fc.double({ min: -1e6, max: 1e6 }),
    fc.integer({ min: 0, max: 300 }),
  ),
  { minLength: 1 },
);

function filled<T>(growing: { push(value: T): void; finish(): ColumnData }, values: readonly T[]): Table {
  for (const value of values) growing.push(value);
  return { rows: values.length, columns: new Map([["column", growing.finish()]]) };
}

/** The answers of whoever makes the text of each cell, and of the test of the column. */
function bothWays(table: Table, measure: Measure, style: NumberStyle, wanted: string) {
  const shown = Array.from({ length: table.rows }, (_, row) =>
    isNumeric(measure)
      ? showNumber(numberAt(table, "column", row), measure, style)
      : textAt(table, "column", row),
  );
  const test = cellsWith(table, "column", measure, style, wanted);
  return {
    expected: shown.map((text) => text.toLowerCase().includes(wanted)),
    // Asked twice, for the second answer may be a remembered one.
    found: shown.map((_, row) => [test?.(row) ?? false, test?.(row) ?? false]),
  };
}

/** A text to look for: a part of what is shown, in another case or not, or any. */
const partOf = (shown: readonly string[]) =>
  fc
    .oneof(
      fc
        .tuple(fc.constantFrom(...shown), fc.nat(12), fc.integer({ min: 1, max: 4 }), fc.boolean())
        .map(([text, from, length, upper]) => {
          const part = text.slice(from, from + length);
          return upper ? part.toUpperCase() : part;
        }),
      fc.constantFrom(
        "~",
        "k",
        "i",
        "ς",
        "σ",
        "ss",
        "-0",
        "e+21",
        "inf",
        "9,9",
        "ü",
        "\u0307",
        "yes",
        "nan",
        "may",
      ),
      fc.string({ unit: "binary", minLength: 1, maxLength: 3 }),
    )
    .map((text) => text.toLowerCase())
    .filter((text) => text !== "");

describe("cellsWith", () => {
  it.each(["text", "words"] as const)("answers for %s as looking into each cell's text does", (kind) => {
    fc.assert(
      fc.property(
        texts.chain((cells) => fc.tuple(fc.constant(cells), partOf(cells))),
        ([cells, wanted]) => {
          const table = filled(kind === "text" ? new GrowingText() : new GrowingWords(["never met"]), cells);
          const { expected, found } = bothWays(table, kind === "text" ? "text" : "code", us, wanted);
          expect(found).toEqual(expected.map((one) => [one, one]));
        },
      ),
      { numRuns: 2_000 },
    );
  });

  it.each(measures.filter(isNumeric))(
    "answers for a %s as looking into each number's text does",
    (measure) => {
      const styles = fc.record({
        units: fc.constantFrom("us" as const, "si" as const),
        currency: fc.constant("USD"),
        dates: fc.constantFrom(...dateStyles),
      });
      fc.assert(
        fc.property(
          fc
            .tuple(numbers, styles)
            .chain(([cells, style]) =>
              fc.tuple(
                fc.constant(cells),
                fc.constant(style),
                partOf(cells.map((value) => showNumber(value, measure, style))),
              ),
            ),
          ([cells, style, wanted]) => {
            const { expected, found } = bothWays(filled(new GrowingNumbers(), cells), measure, style, wanted);
            expect(found).toEqual(expected.map((one) => [one, one]));
          },
        ),
        { numRuns: 300 },
      );
    },
  );

  it("remembers no more answers than it says, and answers after that too", () => {
    const many = Array.from({ length: 12_000 }, (_, i) => i);
    const { expected, found } = bothWays(filled(new GrowingNumbers(), many), "count", us, "11,99");
    expect(expected.filter(Boolean)).toHaveLength(10);
    expect(found).toEqual(expected.map((one) => [one, one]));
  });

  it("says at once that no number has a letter, and that no word of the list has it", () => {
    expect(cellsWith(filled(new GrowingNumbers(), [1, 2]), "column", "length", us, "~")).toBeNull();
    expect(cellsWith(filled(new GrowingWords(), ["clay", "iron"]), "column", "code", us, "~")).toBeNull();
  });
});
