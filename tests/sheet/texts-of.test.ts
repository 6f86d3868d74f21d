import fc from "fast-check";
import { expect, it } from "vitest";
import { GrowingText, GrowingWords } from "../../src/sheet/grow.ts";
import { type ColumnData, codesOf, shortTextsOf, textAt, textsOf } from "../../src/sheet/table.ts";

/** Among them texts of four letters and of four bytes, a mark of byte order before a text, and half of a pair. */
const cell = fc.oneof(
  fc.string(),
  fc.string({ unit: "grapheme" }),
  fc.constantFrom("", "4332", "3A21", "\0\0\0\0", "\ufeff4332", "\ufeff", "éé", "😀", "\ud800"),
);

it("a reader of a column gives what each of its cells says", () => {
  fc.assert(
    fc.property(fc.array(cell), (cells) => {
      const growing = new GrowingText();
      const words = new GrowingWords();
      for (const text of cells) {
        growing.push(text);
        words.push(text);
      }
      const table = {
        rows: cells.length,
        columns: new Map<string, ColumnData>([
          ["text", growing.finish()],
          ["words", words.finish()],
        ]),
      };
      for (const key of ["text", "words"]) {
        const said = cells.map((_, row) => textAt(table, key, row));
        expect(cells.map((_, row) => textsOf(table, key)(row))).toEqual(said);
        expect(cells.map((_, row) => shortTextsOf(table, key)(row))).toEqual(said);
        const short = shortTextsOf(table, key);
        expect([...cells.keys(), ...cells.keys()].map(short)).toEqual([...said, ...said]);
      }
      const { codes, words: list } = codesOf(table, "words");
      expect(Array.from(codes, (code) => list[code])).toEqual(cells);
    }),
  );
});

it("refuses a column that is not there, or not of words", () => {
  const table = { rows: 0, columns: new Map([["text", new GrowingText().finish()]]) };
  expect(() => textsOf(table, "words")(0)).toThrow(/no text column "words"/);
  expect(() => codesOf(table, "text")).toThrow(/no column of words "text"/);
});
