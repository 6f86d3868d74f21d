import { describe, expect, it } from "vitest";
import type { ObservationFile } from "../../src/columns/city-file.ts";
import { readLengthMark } from "../../src/intake/length-marks.ts";
import { readObservations } from "../../src/intake/observation-file.ts";
import { observationKinds } from "../../src/reference/observation-kinds.ts";
import { valueWords } from "../../src/reference/value-words.ts";
import { column, inChunks, inspections, lateralsOf } from "./sample-files.ts";

const file: ObservationFile = {
  file: "observations.csv",
  delimiter: ",",
  encoding: "utf-8",
  decimalMark: ".",
  dateOrder: "month first",
  worstGrade: 5,
  columns: {
    lateral: { heading: "ID" },
    inspected_on: { heading: "DATE" },
    from: { heading: "AT", unit: "m" },
    kind: { heading: "KIND" },
    grade: { heading: "GR" },
    length_mark: { heading: "MARK" },
    turn: { heading: "TURN" },
    size_after: { heading: "NEW", unit: "mm" },
  },
};
const index = lateralsOf("A", "B");

async function read(...rows: string[]) {
  const surveys = await inspections(["A,3/4/2025,3,,Y", "B,5/6/2024,2,,Y"], index);
  const text = ["ID,DATE,AT,KIND,GR,MARK,TURN,NEW", ...rows, ""].join("\n");
  const reading = { words: valueWords, ownWords: {}, kinds: observationKinds, cityKinds: {} };
  return readObservations(inChunks(text), file, reading, index, surveys);
}

describe("length marks", () => {
  it("are a word or letter for start or finish, and a number", () => {
    expect(readLengthMark("S01")).toEqual({ end: "start", number: "1" });
    expect(readLengthMark("f1")).toEqual({ end: "finish", number: "1" });
    expect(readLengthMark(" Finish 12 ")).toEqual({ end: "finish", number: "12" });
    expect(readLengthMark("A3")).toEqual({ end: "start", number: "3" });
    expect(readLengthMark("B3")).toEqual({ end: "finish", number: "3" });
    for (const no of ["", "S", "01", "X1", "S1F1"]) expect(readLengthMark(no)).toBeNull();
  });

  it("make one observation of two rows, with the worse grade, and lose no row", async () => {
    const { table, problems, tally } = await read(
      "A,3/4/2025,2,crack,2,S01,,",
      "A,3/4/2025,4,hole,4,,,",
      "A,3/4/2025,7.5,crack,3,F01,,",
    );
    expect(problems).toEqual([]);
    expect(column(table, "from")).toEqual([2, 4, 7.5]);
    expect(column(table, "to")).toEqual([7.5, Number.NaN, Number.NaN]);
    expect(column(table, "grade")).toEqual([3, 4, 3]);
    expect(column(table, "mode")).toEqual(["structural", "structural", "inventory"]);
    expect(tally).toMatchObject({ read: 3, kept: 3, duplicates: 0, rejected: 0 });
  });

  it("pair by number, so lengths may overlap", async () => {
    const { table } = await read(
      "A,3/4/2025,1,crack,2,S1,,",
      "A,3/4/2025,2,root fine,3,S2,,",
      "A,3/4/2025,5,crack,2,F1,,",
      "A,3/4/2025,6,root fine,3,F2,,",
    );
    expect(column(table, "to")).toEqual([5, 6, Number.NaN, Number.NaN]);
  });

  it("never pair across surveys, and an end alone stays at its point and is said", async () => {
    const { table, problems } = await read("A,3/4/2025,1,crack,2,S1,,", "B,5/6/2024,5,crack,2,F1,,");
    expect(column(table, "to")).toEqual([Number.NaN, Number.NaN]);
    expect(column(table, "mode")).toEqual(["structural", "structural"]);
    expect(problems.map(({ row, found }) => [row, found])).toEqual([
      [2, "length mark S1 without its finish"],
      [3, "length mark F1 without its start"],
    ]);
  });

  it("do not join two kinds, and name a mark that cannot be read", async () => {
    const { table, problems } = await read(
      "A,3/4/2025,1,crack,2,S1,,",
      "A,3/4/2025,2,hole,4,from,,",
      "A,3/4/2025,5,hole,4,F1,,",
    );
    expect(column(table, "to")).toEqual([Number.NaN, Number.NaN, Number.NaN]);
    expect(problems.map(({ row, found }) => [row, found])).toEqual([
      [3, 'length mark "from"'],
      [4, "length 1 starts as crack and ends as hole"],
    ]);
  });
});

describe("bends and sizes seen", () => {
  it("are read with their units", async () => {
    const { table } = await read("A,3/4/2025,1,bend,,,22.5,", "A,3/4/2025,2,size change,,,,4 in");
    expect(column(table, "turn")).toEqual([22.5, Number.NaN]);
    expect(column(table, "size_after")).toEqual([Number.NaN, 101.6]);
  });
});
