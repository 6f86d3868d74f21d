import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { listByDistrict } from "../../src/workbook/long-list.ts";
import { buildPlanningBook } from "../../src/workbook/planning-book.ts";
import { FEW_ROWS, inManyParts, smallContents } from "./small-program.ts";

/** A list whose entries are the number of their district. */
const listOf = (perDistrict: readonly number[], rowsASheet: number) =>
  listByDistrict({
    perDistrict,
    districtNames: perDistrict.map((_, i) => `D${i + 1}`),
    rowsASheet,
    between: (from, to) =>
      perDistrict.flatMap((count, i) =>
        i + 1 >= from && i + 1 <= to ? Array<number>(count).fill(i + 1) : [],
      ),
  });

describe("a long list", () => {
  it("is one part under the sheet's own name where it fits", () => {
    const [part, ...more] = listOf([3, 4, 3], 10).parts;
    expect(more).toEqual([]);
    expect(part?.nameOf("Ranking")).toBe("Ranking");
    expect(part?.notes).toEqual([]);
    expect([...part!]).toEqual([1, 1, 1, 2, 2, 2, 2, 3, 3, 3]);
  });

  it("is parts of whole districts where it does not, each saying what it is part of", () => {
    const { parts } = listOf([3, 4, 4, 2], 10);
    expect(parts.map(({ from, to, length }) => [from, to, length])).toEqual([
      [1, 2, 7],
      [3, 4, 6],
    ]);
    expect(parts.map((part) => part.nameOf("Ranking"))).toEqual(["Ranking 1", "Ranking 2"]);
    expect(parts[1]?.notes).toEqual([
      "Part 2 of 2, because a sheet holds no more than 10 of these rows: districts D3 to D4, numbers 3 to 4.",
    ]);
  });

  it("has each entry in one part, none of which is too long, for any districts", () => {
    fc.assert(
      fc.property(fc.array(fc.nat(10)), (perDistrict) => {
        const list = listOf(perDistrict, 10);
        expect(list.parts.flatMap((part) => [...part])).toEqual([...list]);
        expect(list.parts.map(({ length }) => length)).toEqual(list.parts.map((part) => [...part].length));
        expect(Math.max(...list.parts.map(({ length }) => length))).toBeLessThanOrEqual(10);
        expect(list.length).toBe([...list].length);
      }),
    );
  });

  it("refuses a district that no sheet holds, by name", () => {
    expect(() => listOf([3, 11], 10)).toThrow('11 rows of district "D2" are more than the 10');
  });
});

describe("the books of a program whose lists take several sheets", () => {
  const parts = inManyParts("us");
  const whole = smallContents("us");
  const pairs = [
    [buildBidBook(readBidView(parts)), buildBidBook(readBidView(whole))],
    [buildPlanningBook(parts), buildPlanningBook(whole)],
  ] as const;

  it("have every row of the whole, on sheets of few rows", () => {
    for (const [inParts, inOne] of pairs) {
      for (const sheet of inOne.sheets.filter(({ filtered }) => filtered)) {
        const own = inParts.sheets.filter(({ name }) => name.replace(/ \d+$/, "") === sheet.name);
        const texts = (rows: Iterable<unknown>) => [...rows].map((row) => JSON.stringify(row)).sort();
        expect(texts(own.flatMap(({ rows }) => [...rows])), sheet.name).toEqual(texts(sheet.rows));
        if (own.length > 1) for (const { rows } of own) expect(rows.length).toBeLessThanOrEqual(FEW_ROWS);
      }
    }
    expect(pairs[0][0].sheets.map(({ name }) => name)).toContain("Lateral schedule 2");
    expect(pairs[1][0].sheets.map(({ name }) => name)).toEqual(
      expect.arrayContaining(["Ranking 2", "Reasons 2", "Eligible treatments 2", "Lateral quantities 2"]),
    );
  });

  it("say how many rows each sheet has", () => {
    for (const book of pairs.flat())
      for (const { name, rows } of book.sheets) expect([...rows].length, name).toBe(rows.length);
  });
});
