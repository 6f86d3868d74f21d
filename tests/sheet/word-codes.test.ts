import { describe, expect, it } from "vitest";
import { GrowingText, GrowingWords } from "../../src/sheet/grow.ts";
import { wordCodesOf } from "../../src/sheet/word-codes.ts";

const cells = ["north", "", "south", "north"];

describe("the codes of a column", () => {
  it.each([
    ["words", new GrowingWords()],
    ["free text", new GrowingText()],
  ])("stand for its cells, 0 for a missing one: %s", (_, growing) => {
    for (const cell of cells) growing.push(cell);
    const table = { rows: cells.length, columns: new Map([["district", growing.finish()]]) };
    const { codes, words } = wordCodesOf(table, "district");
    expect(Array.from(codes, (code) => words[code])).toEqual(cells);
    expect(codes[1]).toBe(0);
  });

  it("are asked of columns of words only", () => {
    expect(() => wordCodesOf({ rows: 1, columns: new Map() }, "district")).toThrow('"district"');
  });
});
