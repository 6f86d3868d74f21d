import fc from "fast-check";
import { expect, it } from "vitest";
import { RowCells } from "../../src/intake/row-cells.ts";

const cell = fc
  .oneof(fc.string({ maxLength: 4 }), fc.constantFrom("", " ", "雨", "00417"))
  .map((text) => text.replace(/[,\n"]/g, ""));
const row = fc.array(cell, { minLength: 1, maxLength: 6 });
/** More cells than there is room for at first. */
const wide = fc
  .integer({ min: 250, max: 1200 })
  .map((count) => Array.from({ length: count }, (_, i) => String(i)));

it("are those of the line, row after row, as cutting the text at its separators gives them", () => {
  fc.assert(
    fc.property(fc.array(fc.oneof({ weight: 9, arbitrary: row }, wide), { maxLength: 8 }), (rows) => {
      const text = rows.map((cells) => `${cells.join(",")}\n`).join("");
      const cells = new RowCells();
      let from = 0;
      for (const expected of rows) {
        from = cells.takeLine(text, from, ",".charCodeAt(0));
        expect(cells.all()).toEqual(expected);
        expect(cells.isBlank()).toBe(expected.every((each) => each.trim() === ""));
      }
      expect(from).toBe(text.length);
    }),
  );
});

it("are those of a record that was cut before, line breaks and all, and none beyond it", () => {
  const cells = new RowCells();
  cells.takeRecord(["a", "b", "c", "d"]);
  cells.takeRecord(["1", "x\ny", ""]);
  expect(cells.all()).toEqual(["1", "x\ny", ""]);
  expect(cells.cell(3)).toBe("");
  cells.takeRecord([]);
  expect(cells.isBlank()).toBe(true);
});
