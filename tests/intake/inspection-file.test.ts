import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readInspections } from "../../src/intake/inspection-file.ts";
import { tallyReconciles } from "../../src/intake/tally.ts";
import { isoDate } from "../../src/quantity/calendar.ts";
import { day } from "../../src/quantity/si.ts";
import { valueWords } from "../../src/reference/value-words.ts";
import {
  cellsOf,
  column,
  INSPECTION_HEADINGS,
  inChunks,
  inspectionFile,
  inspections,
  lateralsOf,
} from "./sample-files.ts";

describe("reading inspections", () => {
  it("puts them by lateral, then by date, then as in the file", async () => {
    const { table, first } = await inspections([
      "B,3/4/2025,3,4100,Y",
      "A,3/4/2025,2,,Y",
      "A,3/4/2020,1,,Y",
      "A,3/4/2025,4,,N",
    ]);
    expect([...first]).toEqual([0, 3, 4, 4]); // A has rows 0 to 2, B row 3, 00417 none
    expect(column(table, "lateral_row")).toEqual([0, 0, 0, 1]);
    expect(column(table, "structural_grade")).toEqual([1, 2, 4, 3]);
    expect(column(table, "file_row")).toEqual([4, 3, 5, 2]);
    expect(column(table, "inspected_on").map((d) => isoDate(day(Number(d))))).toEqual([
      "2020-03-04",
      "2025-03-04",
      "2025-03-04",
      "2025-03-04",
    ]);
  });

  it("keeps a grade 0 apart from a grade not given, and quick ratings as text", async () => {
    const { table, problems } = await inspections(["A,3/4/2025,0,0000,", "B,3/4/2025,,3E00,"]);
    expect(column(table, "structural_grade")).toEqual([0, Number.NaN]);
    expect(column(table, "structural_quick")).toEqual(["0000", "3E00"]);
    expect(problems).toEqual([]);
  });

  it("turns the grades of a city whose worst is 1 or 0", async () => {
    expect(
      column((await inspections(["A,3/4/2025,1,,"], undefined, { worstGrade: 1 })).table, "structural_grade"),
    ).toEqual([5]);
    expect(
      column((await inspections(["A,3/4/2025,0,,"], undefined, { worstGrade: 0 })).table, "structural_grade"),
    ).toEqual([5]);
  });

  it("rejects an inspection of an unknown lateral", async () => {
    const { tally, problems } = await inspections(["C,3/4/2025,3,,"]);
    expect(tally).toMatchObject({ read: 1, kept: 0, rejected: 1 });
    expect(problems[0]).toMatchObject({ row: 2, column: "ID", found: "C", severity: "rejected" });
  });

  it("does not match ids that differ in leading zeros, and says so", async () => {
    const { tally, problems } = await inspections(["417,3/4/2025,3,,"]);
    expect(tally.rejected).toBe(1);
    expect(problems[0]?.remedy).toContain('The lateral file has "00417": only leading zeros differ');
  });

  it("rejects an inspection without a day, or with a day that cannot be read", async () => {
    const { tally, problems } = await inspections([
      "A,,3,,",
      "A,N/A,3,,",
      "A,13/4/2025,3,,",
      "A,1/1/1900,3,,",
    ]);
    expect(tally).toMatchObject({ read: 4, kept: 0, rejected: 4 });
    expect(problems.map(({ row, severity, column: heading }) => [row, severity, heading])).toEqual(
      [2, 3, 4, 5].map((row) => [row, "rejected", "DATE"]),
    );
  });

  it("counts a row that repeats another in every column as a duplicate, and keeps two surveys of one day", async () => {
    const { table, tally, problems } = await inspections([
      "A,3/4/2025,3,4100,Y",
      "A,3/4/2025,2,4100,Y",
      "A,3/4/2025,3,4100,Y",
      "B,3/4/2025,3,4100,Y",
    ]);
    expect(tally).toMatchObject({ read: 4, kept: 3, duplicates: 1 });
    expect(column(table, "file_row")).toEqual([2, 3, 5]);
    expect(problems).toMatchObject([
      { row: 4, severity: "noted", remedy: expect.stringContaining("Row 2 is the same") },
    ]);
  });

  it("tells surveys of one day apart by columns of the file that are not ours", async () => {
    const { tally } = await readInspections(
      inChunks(`${INSPECTION_HEADINGS},DIRECTION\nA,3/4/2025,3,,,up\nA,3/4/2025,3,,,down\n`),
      inspectionFile,
      { words: valueWords, ownWords: {} },
      lateralsOf("A"),
    );
    expect(tally).toMatchObject({ kept: 2, duplicates: 0 });
  });

  it("uses no survey when the settings do not say where the day is", async () => {
    const { tally, problems } = await inspections(["A,3/4/2025,3,,"], undefined, {
      columns: { lateral: { heading: "ID" }, structural_grade: { heading: "STR" } },
    });
    expect(tally).toMatchObject({ read: 1, kept: 0, rejected: 1 });
    expect(problems).toMatchObject([{ row: null, severity: "rejected" }]);
  });

  it("accounts for every row, keeps the order and does not depend on chunks, for any text", async () => {
    const cell = fc.constantFrom(
      "A",
      "B",
      "417",
      "3/4/2025",
      "2020-01-02",
      "0",
      "3",
      "9",
      "4100",
      "Y",
      "",
      "total",
      '"',
    );
    const text = fc
      .array(fc.array(cell, { minLength: 3, maxLength: 6 }), { maxLength: 15 })
      .map((rows) => `${INSPECTION_HEADINGS}\n${rows.map((cells) => cells.join(",")).join("\n")}`);
    const index = lateralsOf("A", "B", "00417");
    const read = (whole: string, cuts: readonly number[] = []) =>
      readInspections(inChunks(whole, cuts), inspectionFile, { words: valueWords, ownWords: {} }, index);
    await fc.assert(
      fc.asyncProperty(fc.oneof(text, fc.string()), fc.array(fc.nat(300)), async (whole, cuts) => {
        const { table, first, tally, problems } = await read(whole, cuts);
        expect(tallyReconciles(tally)).toBe(true);
        expect(table.rows).toBe(tally.kept);
        expect(first.length).toBe(4);
        expect(first[3]).toBe(table.rows);
        const [lateralRows, days] = [column(table, "lateral_row"), column(table, "inspected_on")];
        for (let lateral = 0; lateral < 3; lateral++)
          for (let row = first[lateral] ?? 0; row < (first[lateral + 1] ?? 0); row++) {
            expect(lateralRows[row]).toBe(lateral);
            if (row > (first[lateral] ?? 0))
              expect(Number(days[row])).toBeGreaterThanOrEqual(Number(days[row - 1]));
          }
        const again = await read(whole);
        expect(again.problems).toEqual(problems);
        expect(cellsOf(again.table)).toEqual(cellsOf(table));
      }),
      { numRuns: 300 },
    );
  });
});
