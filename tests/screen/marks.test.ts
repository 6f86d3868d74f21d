import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Marks } from "../../src/screen/marks.ts";

describe("marks", () => {
  it("are those of a set of rows, whatever is marked and unmarked, and the ones before stay as they were", () => {
    const changes = fc.array(fc.tuple(fc.boolean(), fc.nat({ max: 40 })), { maxLength: 60 });
    fc.assert(
      fc.property(fc.uniqueArray(fc.nat({ max: 30 })), changes, (first, then) => {
        let marks = Marks.of(Uint32Array.from(first));
        const set = new Set(first);
        for (const [on, row] of then) {
          const before = marks.rows();
          const next = on ? marks.with(row) : marks.without(row);
          expect(marks.rows()).toEqual(before);
          marks = next;
          if (on) set.add(row);
          else set.delete(row);
        }
        expect(marks.rows()).toEqual([...set].sort((a, b) => a - b));
        expect(marks.size).toBe(set.size);
        for (let row = 0; row < 50; row++) expect(marks.has(row)).toBe(set.has(row));
      }),
    );
    expect(Marks.none.size).toBe(0);
  });
});
