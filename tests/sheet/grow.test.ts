import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { GrowingText } from "../../src/sheet/grow.ts";
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
