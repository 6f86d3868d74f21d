import { describe, expect, it } from "vitest";
import type { ProgramHead } from "../../src/reference/basis.ts";
import { headRows } from "../../src/workbook/sheet-head.ts";
import type { SheetModel } from "../../src/workbook/sheet-model.ts";

const head = { name: "A program", asOf: 20_000, print: { dates: "ISO" } } as unknown as ProgramHead;
const sheet = (pagesWide: number): SheetModel => ({
  name: "Uncertainty",
  title: "Uncertainty of cost and finish",
  notes: ["A note of some length"],
  columns: [
    { heading: "District", width: 50 },
    ...Array.from({ length: 15 }, () => ({ heading: "P10", width: 12 })),
  ],
  rows: [],
  frozenColumns: 1,
  pagesWide,
  locked: false,
});

describe("the head of a sheet printed over several pages", () => {
  it("stands beside the columns that each page repeats, or the next page would cut it to their width", () => {
    const [title, program, note] = headRows(head, sheet(2));
    expect([title!.column, program!.column, note!.column]).toEqual([2, 2, 2]);
    expect(headRows(head, sheet(1)).map(({ column }) => column)).toEqual([1, 1, 1, 1]);
  });

  it("has its notes end where those of a sheet on one page do, not on the next page", () => {
    for (const pagesWide of [1, 2]) {
      const { column, across } = headRows(head, sheet(pagesWide))[2]!;
      const end = sheet(pagesWide)
        .columns.slice(0, column - 1 + across)
        .reduce((sum, { width }) => sum + width, 0);
      // 50 and five columns of 12.
      expect(end, String(pagesWide)).toBe(110);
    }
  });
});
