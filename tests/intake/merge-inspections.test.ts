import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mergeInspections } from "../../src/intake/merge-inspections.ts";
import { tallyReconciles } from "../../src/intake/tally.ts";
import { column, inspectionFile, inspections } from "./sample-files.ts";

/** A file of surveys under its own name, read. */
const part = async (file: string, rows: readonly string[]) => ({
  file,
  read: await inspections(rows, undefined, { file }),
});

const cellsOf = (merged: ReturnType<typeof mergeInspections>) =>
  Object.keys(inspectionFile.columns).map((key) => column(merged.table, key));

describe("inspections of several files", () => {
  it("stand by lateral, then by day, then by file", async () => {
    const merged = mergeInspections(
      [
        await part("inspections.csv", ["B,3/4/2025,3,,", "A,3/4/2025,2,,"]),
        await part("inspections/b.csv", ["A,1/4/2026,5,,", "A,3/4/2025,4,,", "A,1/1/2020,1,,"]),
      ],
      3,
    );
    expect([...merged.first]).toEqual([0, 4, 5, 5]);
    expect(column(merged.table, "structural_grade")).toEqual([1, 2, 4, 5, 3]);
  });

  it("count a survey that two files have once, and the later file's row as a duplicate", async () => {
    const merged = mergeInspections(
      [
        await part("inspections.csv", ["A,3/4/2025,2,2100,Y", "B,3/4/2025,3,,"]),
        await part("inspections/again.csv", ["A,3/4/2025,2,2100,Y", "B,3/4/2025,4,,", "A,1/4/2026,5,,"]),
      ],
      3,
    );
    expect(merged.table.rows).toBe(4);
    expect(merged.tallies).toMatchObject([
      { file: "inspections.csv", read: 2, kept: 2, duplicates: 0 },
      { file: "inspections/again.csv", read: 3, kept: 2, duplicates: 1 },
    ]);
    expect(merged.tallies.every(tallyReconciles)).toBe(true);
    expect(merged.problems).toMatchObject([
      {
        severity: "noted",
        file: "inspections/again.csv",
        row: 2,
        remedy: "Row 2 of inspections.csv is the same survey: it is used, this one is not.",
      },
    ]);
  });

  it("are one file's alone, exactly, where there is one, and an empty table where there is none", async () => {
    const only = await part("inspections.csv", ["A,3/4/2025,2,,"]);
    expect(mergeInspections([only], 3)).toMatchObject({ table: only.read.table, first: only.read.first });
    const none = mergeInspections([], 3);
    expect(none.table.rows).toBe(0);
    expect([...none.first]).toEqual([0, 0, 0, 0]);
  });

  it("are the surveys one file with all their rows would give, each once", async () => {
    const row = fc
      .tuple(
        fc.constantFrom("A", "B", "00417"),
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 0, max: 5 }),
        fc.constantFrom("Y", "N", ""),
      )
      .map(([id, month, grade, done]) => `${id},${month}/5/2025,${grade},,${done}`);
    await fc.assert(
      fc.asyncProperty(
        fc.array(row, { maxLength: 12 }),
        fc.array(row, { maxLength: 12 }),
        async (one, two) => {
          const apart = mergeInspections([await part("a.csv", one), await part("b.csv", two)], 3);
          const together = mergeInspections([await part("a.csv", [...one, ...two])], 3);
          expect(cellsOf(apart)).toEqual(cellsOf(together));
          expect([...apart.first]).toEqual([...together.first]);
          expect(apart.tallies.every(tallyReconciles)).toBe(true);
        },
      ),
      { numRuns: 60 },
    );
  });
});
