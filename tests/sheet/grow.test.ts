import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { GrowingNumbers, GrowingText, GrowingWords } from "../../src/sheet/grow.ts";
import { textAt } from "../../src/sheet/table.ts";

describe("text that grows row after row", () => {
  it("comes back as it went in, whatever its letters, and half a character as the sign for it", () => {
    const text = fc.oneof(
      fc.string({ unit: "grapheme-ascii" }),
      fc.string({ unit: "grapheme" }),
      fc.constantFrom("", "00417", "é", "LAT-7é", "雨", "a\ud800", "x".repeat(40_000)),
    );
    fc.assert(
      fc.property(fc.array(text, { maxLength: 30 }), (texts) => {
        const growing = new GrowingText();
        for (const each of texts) growing.push(each);
        const table = { rows: texts.length, columns: new Map([["text", growing.finish()]]) };
        expect(texts.map((_, row) => textAt(table, "text", row))).toEqual(
          texts.map((each) => new TextDecoder().decode(new TextEncoder().encode(each))),
        );
      }),
    );
  });
});

it("takes texts that lie side by side all at once as one by one", () => {
  const blocks = fc.array(fc.array(fc.string({ unit: "grapheme", maxLength: 8 }), { maxLength: 300 }));
  fc.assert(
    fc.property(blocks, fc.nat(5), (each, left) => {
      const [atOnce, oneByOne] = [new GrowingText(), new GrowingText()];
      for (const texts of each) {
        const source = Buffer.from(texts.map((text) => `${text},`).join(""));
        const ends = [-1, ...texts.map(() => 0)];
        for (const [i, text] of texts.entries()) ends[i + 1] = ends[i]! + Buffer.byteLength(text) + 1;
        const from = Math.min(left, texts.length);
        // As a column would lie: the bounds of each text begin one place after those of the text before.
        const first = Int32Array.from(texts.keys(), (i) => i - 1);
        atOnce.pushAll({ bytes: source, bounds: Int32Array.from(ends), first, place: 1 }, from, texts.length);
        for (let i = from; i < texts.length; i++) oneByOne.pushBytes(source, ends[i]! + 1, ends[i + 1]!);
      }
      expect(atOnce.finish()).toEqual(oneByOne.finish());
    }),
  );
});

describe("columns of many rows", () => {
  it("hold what was pushed, whatever was expected", () => {
    const rows = 300_000; // over a megabyte, from where the room itself is the column
    for (const expected of [0, 2000, rows, rows + 17, 3 * rows]) {
      const numbers = new GrowingNumbers(() => expected);
      const words = new GrowingWords(["a"], () => expected);
      const texts = new GrowingText(() => expected);
      for (let row = 0; row < rows; row++) {
        numbers.push(row / 2);
        words.push(["", "a", "b"][row % 3]!);
        const bytes = Buffer.from(`,${row},`);
        texts.pushBytes(bytes, 1, bytes.length - 1);
      }
      const { values } = numbers.finish();
      const { codes } = words.finish();
      const table = { rows, columns: new Map([["text", texts.finish()]]) };
      expect([values.length, codes.length, table.columns.get("text")?.ends.length]).toEqual([
        rows,
        rows,
        rows + 1,
      ]);
      for (let row = 0; row < rows; row += 997) {
        expect(values[row]).toBe(row / 2);
        expect(codes[row]).toBe(row % 3);
        expect(textAt(table, "text", row)).toBe(String(row));
      }
    }
  });
});
