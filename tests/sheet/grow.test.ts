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
