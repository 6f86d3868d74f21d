import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ObservationFile } from "../../src/columns/city-file.ts";
import { MissingWords } from "../../src/intake/missing-words.ts";
import { readObservations } from "../../src/intake/observation-file.ts";
import { KindReader } from "../../src/intake/observation-kind.ts";
import { tallyReconciles } from "../../src/intake/tally.ts";
import { observationKinds, observationKindsSchema } from "../../src/reference/observation-kinds.ts";
import { valueWords } from "../../src/reference/value-words.ts";
import { cellsOf, column, inChunks, inspectionFile, inspections, lateralsOf } from "./sample-files.ts";

const HEADINGS = "ID,DATE,DIR,FROM,TO,CODE,GR,CLK,NOTE";
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
    direction: { heading: "DIR" },
    from: { heading: "FROM", unit: "ft" },
    to: { heading: "TO", unit: "ft" },
    kind: { heading: "CODE" },
    grade: { heading: "GR" },
    clock: { heading: "CLK" },
    note: { heading: "NOTE" },
  },
};
const index = lateralsOf("A", "B", "00417");
const cityKinds = { fracture: ["X-12"], "root mass": ["X-32", "big roots"] };
const twoSurveys = () => inspections(["A,3/4/2025,3,,Y", "B,5/6/2024,2,,Y"], index);

async function read(
  rows: readonly string[],
  surveys: Awaited<ReturnType<typeof inspections>> | null = null,
  differs: Partial<ObservationFile> = {},
) {
  return readObservations(
    inChunks([HEADINGS, ...rows, ""].join("\n")),
    { ...file, ...differs },
    { words: valueWords, ownWords: {}, kinds: observationKinds, cityKinds },
    index,
    surveys ?? (await twoSurveys()),
  );
}

describe("reading observations", () => {
  it("puts them to their surveys, nearest first, with units, kinds and what each counts towards", async () => {
    const { table, first, problems } = await read([
      "B,5/6/2024,,4,,X-32,3,,",
      "A,3/4/2025,,12 ft,5 m,x-12,4,10 to 2,opens wide",
      "A,3/4/2025,,2.0,,Water Level,,,",
    ]);
    expect(problems).toEqual([]);
    expect([...first]).toEqual([0, 2, 3]); // survey 0 is A's, survey 1 is B's
    expect(column(table, "kind")).toEqual(["water level", "fracture", "root mass"]);
    expect(column(table, "mode")).toEqual(["inventory", "structural", "operation"]);
    // 2 ft = 0.6096 m, 12 ft = 3.6576 m, 4 ft = 1.2192 m, exactly.
    expect(column(table, "from")).toEqual([0.6096, expect.closeTo(3.6576, 12), 1.2192]);
    expect(column(table, "to")).toEqual([Number.NaN, 5, Number.NaN]);
    expect(column(table, "grade")).toEqual([Number.NaN, 4, 3]);
    expect(column(table, "clock")).toEqual(["", "10 to 2", ""]);
    expect(column(table, "note")).toEqual(["", "opens wide", ""]);
  });

  it("keeps a kind that nobody knows as text, and notes it once with its count and what to write", async () => {
    const { table, problems } = await read([
      "A,3/4/2025,,1,,ZZ-9,4,,",
      "A,3/4/2025,,2,,zz-9,2,,",
      "A,3/4/2025,,3,,,2,,",
    ]);
    expect(column(table, "kind")).toEqual(["ZZ-9", "zz-9", ""]);
    expect(column(table, "mode")).toEqual(["unknown", "unknown", "unknown"]);
    expect(
      problems.map(({ row, severity, column: heading, found }) => [row, severity, heading, found]),
    ).toEqual([
      [2, "noted", "CODE", "ZZ-9"],
      [4, "noted", "CODE", ""],
    ]);
    expect(problems[0]?.remedy).toContain("2 row(s)");
    expect(problems[0]?.remedy).toContain('"observations": { "kinds": { "…": ["ZZ-9"] } }; … is one of ');
    expect(problems[0]?.remedy).toMatch(/ crack, .* root mass/);
  });

  it("turns the grades of a city whose worst is 1 or 0", async () => {
    const one = await read(["A,3/4/2025,,1,,hole,1,,"], null, { worstGrade: 1 });
    expect(column(one.table, "grade")).toEqual([5]);
    const zero = await read(["A,3/4/2025,,1,,hole,0,,"], null, { worstGrade: 0 });
    expect(column(zero.table, "grade")).toEqual([5]);
  });

  it("keeps what is of no survey, or of one of several, last and unused, and says so once a survey", async () => {
    const { table, first, problems, tally } = await read([
      "A,3/4/2020,,1,,hole,4,,",
      "A,3/4/2020,,2,,hole,4,,",
      "A,3/4/2025,,3,,hole,4,,",
    ]);
    expect(tally).toMatchObject({ read: 3, kept: 3 });
    expect([...first]).toEqual([0, 1, 1]);
    expect(column(table, "inspection_row")).toEqual([0, Number.NaN, Number.NaN]);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({ row: 2, found: "A of 2020-03-04", severity: "noted" });

    const day = await inspections(["A,3/4/2025,3,,N", "A,3/4/2025,2,,N"], index);
    const both = await read(["A,3/4/2025,,3,,hole,4,,"], day);
    expect([...both.first]).toEqual([0, 0, 0]);
    expect(both.problems[0]?.remedy).toContain("several surveys of that day fit");
  });

  it("tells two surveys of one day apart by where the camera started", async () => {
    const surveys = await inspections(["A,3/4/2025,3,upstream,N", "A,3/4/2025,2,downstream,N"], index, {
      columns: {
        ...inspectionFile.columns,
        direction: { heading: "QUICK" },
        structural_quick: { heading: "none such" },
      },
    });
    const { first, table } = await read(
      ["A,3/4/2025,from house,3,,hole,4,,", "A,3/4/2025,main,5,,hole,3,,"],
      surveys,
    );
    expect([...first]).toEqual([0, 1, 2]);
    expect(column(table, "grade")).toEqual([3, 4]);
  });

  it("rejects an observation of an unknown lateral or without a day", async () => {
    const { tally, problems } = await read(["417,3/4/2025,,1,,hole,4,,", "A,,,1,,hole,4,,"]);
    expect(tally).toMatchObject({ read: 2, kept: 0, rejected: 2 });
    expect(problems.map(({ row, severity }) => [row, severity])).toEqual([
      [2, "rejected"],
      [3, "rejected"],
    ]);
  });

  it("counts a row that repeats another as a duplicate where it says its place, and as two defects where not", async () => {
    const { tally, table } = await read([
      "A,3/4/2025,,1,,hole,4,,",
      "A,3/4/2025,,1,,hole,4,,",
      "A,3/4/2025,,,,hole,4,,",
      "A,3/4/2025,,,,hole,4,,",
    ]);
    expect(tally).toMatchObject({ read: 4, kept: 3, duplicates: 1 });
    expect(table.rows).toBe(3);
  });

  it("notes an end before its beginning and uses it all the same", async () => {
    const { problems, tally } = await read(["A,3/4/2025,,9,4,crack,2,,"]);
    expect(tally.kept).toBe(1);
    expect(problems).toMatchObject([{ row: 2, severity: "noted", found: "an end before its beginning" }]);
  });

  it("accounts for every row, never throws and does not depend on chunks, for any text", async () => {
    const cell = fc.constantFrom(
      "A",
      "B",
      "3/4/2025",
      "5/6/2024",
      "hole",
      "X-12",
      "__proto__",
      "constructor",
      "=1+1",
      "4",
      "9",
      "12 ft",
      "",
      "total",
      '"',
      "\u0000",
    );
    const text = fc
      .array(fc.array(cell, { minLength: 3, maxLength: 10 }), { maxLength: 15 })
      .map((rows) => `${HEADINGS}\n${rows.map((cells) => cells.join(",")).join("\n")}`);
    const surveys = await twoSurveys();
    const readText = (whole: string, cuts: readonly number[] = []) =>
      readObservations(
        inChunks(whole, cuts),
        file,
        { words: valueWords, ownWords: {}, kinds: observationKinds, cityKinds },
        index,
        surveys,
      );
    await fc.assert(
      fc.asyncProperty(fc.oneof(text, fc.string()), fc.array(fc.nat(300)), async (whole, cuts) => {
        const { table, first, tally, problems } = await readText(whole, cuts);
        expect(tallyReconciles(tally)).toBe(true);
        expect(table.rows).toBe(tally.kept);
        expect(first.length).toBe(surveys.table.rows + 1);
        const of = column(table, "inspection_row");
        for (const [row, survey] of of.entries())
          if (row < (first.at(-1) ?? 0)) expect(row).toBeGreaterThanOrEqual(first[Number(survey)] ?? -1);
          else expect(survey).toBeNaN();
        const again = await readText(whole);
        expect(again.problems).toEqual(problems);
        expect(cellsOf(again.table)).toEqual(cellsOf(table));
      }),
      { numRuns: 200 },
    );
  });
});

describe("the table of kinds", () => {
  it("lets no word mean two kinds, and is refused without a source", () => {
    const words = observationKinds.kinds.flatMap(({ kind, words }) => [...new Set([kind, ...words])]);
    expect(words.filter((word, i) => words.indexOf(word) !== i)).toEqual([]);
    const { source, ...rest } = observationKinds;
    expect(source.document).toBe("Own compilation");
    expect(observationKindsSchema.safeParse(rest).success).toBe(false);
  });

  it("gives way to the city's own codes", () => {
    const reader = new KindReader(observationKinds, { grease: ["crack"] }, new MissingWords([]));
    reader.takeCell("Crack ", 2);
    expect(reader.finish().words).toContain("grease");
  });
});
