import fc from "fast-check";
import { expect, it } from "vitest";
import { RowBlock } from "../../src/intake/row-block.ts";

const cell = fc
  .oneof(fc.string({ maxLength: 4 }), fc.constantFrom("", " ", "雨", "00417"))
  .map((text) => text.replace(/[,\r\n"]/g, ""));
const row = fc.array(cell, { minLength: 1, maxLength: 6 });
const wide = fc
  .integer({ min: 250, max: 1200 })
  .map((count) => Array.from({ length: count }, (_, i) => String(i)));
const rows = fc.array(fc.oneof({ weight: 9, arbitrary: row }, wide), { maxLength: 8 });

const rowsOf = (block: RowBlock) => Array.from({ length: block.rows }, (_, i) => block.cells(i));

it("are the rows and cells that cutting the lines at their separators gives, whatever their ends, block after block", () => {
  const block = new RowBlock();
  fc.assert(
    fc.property(rows, fc.infiniteStream(fc.constantFrom("\n", "\r\n", "\r")), (expected, ends) => {
      const lines = expected.map((cells) => cells.join(","));
      // CR before a line that is empty, and so begins with its own end, would make one line end of two.
      const text = lines.map(
        (line, i) => line + (lines[i + 1] === "" ? "\r\n" : (ends.next().value as string)),
      );
      block.takeLines(Buffer.from(text.join("")), ",".charCodeAt(0));
      expect(rowsOf(block)).toEqual(expected);
      for (const [i, cells] of expected.entries())
        expect(block.isBlank(i)).toBe(cells.every((each) => each.trim() === ""));
    }),
  );
});

it("are those of records that were cut before, line breaks and all, and none beyond them", () => {
  const block = new RowBlock();
  const cut = fc.array(fc.array(fc.string({ unit: "grapheme" }), { minLength: 1, maxLength: 4 }));
  fc.assert(
    fc.property(cut, (expected) => {
      block.takeRecords(expected, true);
      expect(rowsOf(block)).toEqual(expected);
    }),
  );
  block.takeRecords([["1", "x\ny", ""]], true);
  expect(block.rows).toBe(1);
  expect(block.cell(0, 3)).toBe("");
});
