import { describe, expect, it } from "vitest";
import { GrowingNumbers, GrowingText, GrowingWords } from "../../src/sheet/grow.ts";
import { joinTables } from "../../src/sheet/joined-tables.ts";
import { type ColumnData, numberAt, type Table, textAt } from "../../src/sheet/table.ts";

const numbers = (...values: number[]): ColumnData => {
  const growing = new GrowingNumbers();
  for (const value of values) growing.push(value);
  return growing.finish();
};
const words = (...values: string[]): ColumnData => {
  const growing = new GrowingWords(["good", "bad"]);
  for (const value of values) growing.push(value);
  return growing.finish();
};
const text = (...values: string[]): ColumnData => {
  const growing = new GrowingText();
  for (const value of values) growing.push(value);
  return growing.finish();
};
const table = (rows: number, columns: Record<string, ColumnData>): Table => ({
  rows,
  columns: new Map(Object.entries(columns)),
});

describe("tables joined", () => {
  it("have all rows and all columns, missing where a table has no such column", () => {
    const joined = joinTables([
      table(2, { grade: numbers(5, Number.NaN), state: words("bad", ""), note: text("a", "") }),
      table(1, { grade: numbers(0), state: words("new word"), weather: text("wet") }),
    ]);
    expect(joined.rows).toBe(3);
    expect([0, 1, 2].map((row) => numberAt(joined, "grade", row))).toEqual([5, Number.NaN, 0]);
    expect([0, 1, 2].map((row) => textAt(joined, "state", row))).toEqual(["bad", "", "new word"]);
    expect([0, 1, 2].map((row) => textAt(joined, "note", row))).toEqual(["a", "", ""]);
    expect([0, 1, 2].map((row) => textAt(joined, "weather", row))).toEqual(["", "", "wet"]);
  });

  it("refuse a column that is of numbers in one and of text in the other", () => {
    expect(() => joinTables([table(1, { x: numbers(1) }), table(1, { x: text("1") })])).toThrow("x");
  });
});
