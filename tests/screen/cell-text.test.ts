import fc from "fast-check";
import { eastAsianWidth } from "get-east-asian-width";
import { describe, expect, it } from "vitest";
import { cut, endWithin, fitTo, visible, widthOf, wrap } from "../../src/screen/cell-text.ts";

/** Anything a file may hold: all code points, lone surrogates, and what is most likely to hurt, often. */
const hostile = fc
  .array(
    fc.oneof(
      fc.string({ unit: "binary" }),
      fc.constantFrom(
        "\x1b[2J",
        "\x1b]0;title\x07",
        "\x9b31m",
        "\u202e",
        "\u2066",
        "\u200b",
        "\ufeff",
        "\ud800",
        "e\u0301\u0301\u0301\u0301\u0301",
        "\u0301",
        "👩‍👩‍👧",
        "🇩🇪",
        "1️⃣",
        "日本",
        "각",
        "\r\n",
        "क्षि",
      ),
    ),
    { maxLength: 12 },
  )
  .map((parts) => parts.join(""));

describe("visible", () => {
  it("leaves plain text as it is", () => {
    expect(visible("L-0417, Weir Street 9 · Größe")).toBe("L-0417, Weir Street 9 · Größe");
  });

  it("shows control characters as their pictures", () => {
    // Unicode code charts, Control Pictures: U+241B escape, U+2400 null, U+240A line feed, U+2421 delete.
    expect(visible("a\x1b[31mb\x00\n\x7f")).toBe("a␛[31mb␀␊␡");
  });

  it("shows bidi controls, invisible characters and broken surrogates as a sign", () => {
    expect(visible("a\u202eb\u200bc\ud800d\u009be\u00adf")).toBe("a�b�c�d�e�f");
  });

  it("draws an emoji of several code points by the first, a flag by its letters", () => {
    expect(visible("👩‍👩‍👧 ❤️ 👍🏽 🇩🇪 1️⃣")).toBe("👩 ❤ 👍 DE 1");
  });

  it("keeps a mark on its letter, and gives a mark alone something to stand on", () => {
    expect(visible("e\u0301")).toBe("é");
    expect(visible("\u0301x")).toBe("\u25cc\u0301x");
    expect(visible(`q${"\u0301".repeat(50)}`)).toBe(`q${"\u0301".repeat(3)}`);
  });

  it("lets nothing through that a terminal would obey, whatever the text", () => {
    fc.assert(
      fc.property(hostile, (text) => {
        // Controls, format characters, surrogates, line and paragraph separators.
        expect(visible(text)).not.toMatch(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/u);
      }),
    );
  });

  it("changes nothing the second time", () => {
    fc.assert(
      fc.property(hostile, (text) => {
        expect(visible(visible(text))).toBe(visible(text));
      }),
    );
  });
});

describe("visible, on long text", () => {
  it("shows 200 KB of joined emoji in seconds: the segmenter alone took a quarter of an hour on such text", () => {
    const begun = performance.now();
    visible("🏳️‍🌈".repeat(14_000));
    // Half a second, measured; the bound leaves room for a busy machine.
    expect(performance.now() - begun).toBeLessThan(10_000);
  });
});

describe("widthOf", () => {
  it("may take text up to U+02FF without a second look: every character of it has one cell and no mark", () => {
    for (let code = 0xa1; code <= 0x2ff; code++) {
      const character = String.fromCodePoint(code);
      if (code === 0xad) continue;
      expect(visible(character)).toBe(character);
      expect(eastAsianWidth(code)).toBe(1);
      expect(character).not.toMatch(/[\p{M}\p{C}]/u);
      expect(character.normalize("NFC")).toBe(character);
    }
  });

  it("counts two cells for wide characters, none for marks, one for the rest", () => {
    // Unicode UAX 11: 日 and 👍 are Wide, ｱ (halfwidth) is not; U+0301 is a nonspacing mark.
    expect(widthOf("日本")).toBe(4);
    expect(widthOf("👍")).toBe(2);
    expect(widthOf("ｱ")).toBe(1);
    expect(widthOf("x\u0301")).toBe(1);
    expect(widthOf("Größe · …")).toBe(9);
  });
});

describe("fitTo", () => {
  it("puts text to the left and numbers to the right", () => {
    expect(fitTo("clay", 6, "left")).toBe("clay  ");
    expect(fitTo("12.5", 6, "right")).toBe("  12.5");
  });

  it("cuts text and says so, and never shows part of a number", () => {
    expect(fitTo("Weir Street", 6, "left")).toBe("Weir …");
    expect(fitTo("1,234,567.00", 6, "right")).toBe("     …");
  });

  it("does not halve a wide character", () => {
    expect(fitTo("日本語", 4, "left")).toBe("日… ");
  });

  it("takes exactly its cells, whatever the text", () => {
    fc.assert(
      fc.property(
        hostile,
        fc.integer({ min: 1, max: 30 }),
        fc.constantFrom("left" as const, "right" as const),
        (text, width, align) => {
          expect(widthOf(fitTo(text, width, align))).toBe(width);
        },
      ),
    );
  });
});

describe("endWithin", () => {
  it("gives the longest end that takes fewer cells, and halves no character", () => {
    expect(endWithin("Weir Street", 7)).toBe(5);
    expect(endWithin("Weir", 9)).toBe(0);
    expect(endWithin("日本語", 4)).toBe(2);
    expect(endWithin("x🦆", 2)).toBe(3);
    expect(endWithin("xe\u0301", 2)).toBe(1);
    fc.assert(
      fc.property(hostile, fc.integer({ min: 1, max: 30 }), (text, cells) => {
        const start = endWithin(text, cells);
        expect(widthOf(visible(text.slice(start)))).toBeLessThan(cells);
        // With the character before it, whole or its last half alone, it would not fit.
        const before = [...new Intl.Segmenter("en").segment(text)].findLast(({ index }) => index < start);
        if (before !== undefined)
          expect(widthOf(visible(text.slice(before.index)))).toBeGreaterThanOrEqual(cells);
      }),
    );
  });

  it("looks at the last part only, however long the text and whatever it is made of", () => {
    expect(endWithin("雨".repeat(1_000_000), 81)).toBe(1_000_000 - 40);
    const towers = `e${"\u0301".repeat(1_000_000)}`;
    expect(widthOf(visible(towers.slice(endWithin(towers, 81))))).toBeLessThan(81);
  });
});

describe("cut", () => {
  it("takes at most its cells and leaves short text alone", () => {
    expect(cut("Weir", 9)).toBe("Weir");
    fc.assert(
      fc.property(hostile, fc.integer({ min: 1, max: 30 }), (text, width) => {
        expect(widthOf(cut(text, width))).toBeLessThanOrEqual(width);
      }),
    );
  });
});

describe("wrap", () => {
  it("breaks at blanks, and inside a word only when it is longer than a line", () => {
    expect(wrap("soil over the crown", 9)).toEqual(["soil over", "the crown"]);
    expect(wrap("a abcdefghij b", 4)).toEqual(["a", "abcd", "efgh", "ij b"]);
    expect(wrap("", 4)).toEqual([""]);
  });

  it("loses no character and fits every line", () => {
    fc.assert(
      fc.property(hostile, fc.integer({ min: 2, max: 30 }), (text, width) => {
        const lines = wrap(text, width);
        expect(Math.max(...lines.map(widthOf))).toBeLessThanOrEqual(width);
        const letters = (parts: readonly string[]) => parts.join("").replaceAll(" ", "");
        expect(letters(lines)).toBe(letters([visible(text)]));
      }),
    );
  });
});
