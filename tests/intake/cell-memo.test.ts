import fc from "fast-check";
import { expect, it } from "vitest";
import { CellMemo } from "../../src/intake/cell-memo.ts";

it("gives of a cell what was kept of the same text, and of no other", () => {
  const cell = fc.oneof(
    fc.string({ maxLength: 3 }),
    fc.constantFrom("", "VCP", "PVC", "x".repeat(31), "x".repeat(32), "雨"),
  );
  fc.assert(
    fc.property(fc.array(cell, { maxLength: 60 }), (cells) => {
      // Four places, so that cells drive each other out.
      const memo = new CellMemo(4);
      const kept: string[] = [];
      for (const each of cells) {
        const line = `,${each},`;
        if (memo.has(line, 1, 1 + each.length)) expect(kept[memo.value]).toBe(each);
        else memo.keep(each, kept.push(each) - 1);
      }
    }),
  );
});

it("remembers a cell, not one that begins or ends like it", () => {
  const memo = new CellMemo(16);
  expect(memo.has("a,clay,b", 2, 6)).toBe(false);
  memo.keep("clay", 3);
  expect(memo.has("clay", 0, 4)).toBe(true);
  expect(memo.value).toBe(3);
  expect(memo.has("clays", 0, 5)).toBe(false);
  expect(memo.has("cla", 0, 3)).toBe(false);
});
