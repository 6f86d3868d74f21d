import { expect, it } from "vitest";
import { CellMemo } from "../../src/intake/cell-memo.ts";

const bytes = Buffer.from("a,clay,b");

it("remembers a cell, not one that begins or ends like it", () => {
  const memo = new CellMemo();
  expect(memo.find(bytes, 2, 6)).toBe(-1);
  memo.keep(bytes, 2, 6, 3);
  expect(memo.values[memo.find(bytes, 2, 6)]).toBe(3);
  expect(memo.values[memo.find(Buffer.from("clay"), 0, 4)]).toBe(3);
  expect(memo.find(bytes, 2, 5)).toBe(-1);
  expect(memo.find(bytes, 1, 6)).toBe(-1);
});

it("takes no more than a column of few different things says", () => {
  const memo = new CellMemo();
  for (let i = 0; i < 20_000; i++) {
    const cell = Buffer.from(String(i));
    memo.keep(cell, 0, cell.length, i);
  }
  expect(memo.values[memo.find(Buffer.from("9"), 0, 1)]).toBe(9);
  expect(memo.find(Buffer.from("19999"), 0, 5)).toBe(-1);
});
