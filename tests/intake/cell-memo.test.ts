import { expect, it } from "vitest";
import { CellMemo } from "../../src/intake/cell-memo.ts";

it("remembers a cell, not one that begins or ends like it", () => {
  const memo = new CellMemo();
  expect(memo.get("a,clay,b", 2, 6)).toBeUndefined();
  memo.keep("clay", 3);
  expect(memo.get("a,clay,b", 2, 6)).toBe(3);
  expect(memo.get("a,clay,b", 2, 5)).toBeUndefined();
  expect(memo.get("a,clay,b", 1, 6)).toBeUndefined();
});

it("takes no more than a column of few different things says", () => {
  const memo = new CellMemo();
  for (let i = 0; i < 20_000; i++) memo.keep(String(i), i);
  expect(memo.get("9", 0, 1)).toBe(9);
  expect(memo.get("19999", 0, 5)).toBeUndefined();
});
