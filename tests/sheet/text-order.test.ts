import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { GrowingText, GrowingWords } from "../../src/sheet/grow.ts";
import { rowsByText } from "../../src/sheet/text-order.ts";

const tableOf = (texts: readonly string[], growing: GrowingText | GrowingWords) => {
  for (const text of texts) growing.push(text);
  return { rows: texts.length, columns: new Map([["id", growing.finish()]]) };
};

describe("rows in the order of their text", () => {
  it("is that of code points, a shorter text before one that goes on", () => {
    // U+FF5E comes before U+1F6B0, whose first half as UTF-16 would be the smaller.
    const texts = ["b", "ab", "～", "a", "", "🚰", "é", "B"];
    const inOrder = ["", "B", "a", "ab", "b", "é", "～", "🚰"];
    const order = rowsByText(tableOf(texts, new GrowingText()), "id");
    expect(Array.from(order, (row) => texts[row])).toEqual(inOrder);
  });

  it("keeps rows alike in the order of the table, as text and as words, be they short or long", () => {
    const short = fc.string({ maxLength: 3, unit: fc.constantFrom("a", "b", "1") });
    const long = short.map((text) => "ab".repeat(16) + text);
    fc.assert(
      fc.property(fc.array(short), fc.array(long, { maxLength: 3 }), (few, rest) => {
        const texts = [...few, ...rest];
        const expected = texts
          .map((text, row) => ({ text, row }))
          .sort((a, b) => (a.text < b.text ? -1 : a.text > b.text ? 1 : a.row - b.row))
          .map(({ row }) => row);
        expect([...rowsByText(tableOf(texts, new GrowingText()), "id")]).toEqual(expected);
        expect([...rowsByText(tableOf(texts, new GrowingWords()), "id")]).toEqual(expected);
      }),
    );
  });
});
