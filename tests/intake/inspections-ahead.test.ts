import { describe, expect, it } from "vitest";
import { readInspections } from "../../src/intake/inspection-file.ts";
import { placeInspections, readInspectionsAhead } from "../../src/intake/inspections-ahead.ts";
import { valueWords } from "../../src/reference/value-words.ts";
import { INSPECTION_HEADINGS, inChunks, inspectionFile, lateralsOf } from "./sample-files.ts";

const laterals = lateralsOf("A", "B", "00417");
const reading = { words: valueWords, ownWords: {} };
const file = inspectionFile;
const chunksOf = (rows: readonly string[]) => inChunks(`${[INSPECTION_HEADINGS, ...rows].join("\n")}\n`);

describe("inspections read before their laterals are known", () => {
  it("are placed as if they had been read against them: order, repeats, problems and counts", async () => {
    const rows = [
      "00417,1/2/2024,9,4100,Y",
      "B,3/4/2025,3,4100,Y",
      "A,3/4/2025,2,,Y",
      "A,,2,,Y",
      "A,3/4/2020,1,,maybe",
      "B,3/4/2025,3,4100,Y",
      "A,3/4/2025,4,,N",
      ",3/4/2025,4,,N",
    ];
    const ahead = await readInspectionsAhead(chunksOf(rows), file, reading);
    const placed = placeInspections(ahead, file.file, laterals);
    const read = await readInspections(chunksOf(rows), file, reading, laterals);
    expect(placed).toEqual(read);
    // Else the comparison would say little.
    expect(read.tally).toMatchObject({ read: 8, kept: 5, duplicates: 1, rejected: 2 });
    expect(read.problems.length).toBeGreaterThan(3);
  });

  it("are to be read again where an id is no lateral's: only then its remedy can be told", async () => {
    const ahead = await readInspectionsAhead(
      chunksOf(["A,3/4/2025,2,,Y", "417,3/4/2025,2,,Y"]),
      file,
      reading,
    );
    expect(placeInspections(ahead, file.file, laterals)).toBeNull();
  });
});
