import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { indexLaterals, readLaterals } from "../../src/intake/lateral-file.ts";
import { tallyReconciles } from "../../src/intake/tally.ts";
import { describeProblem } from "../../src/quantity/problem.ts";
import {
  cellsOf,
  column,
  inChunks,
  LATERAL_HEADINGS,
  lateralFile,
  laterals,
  plainReading,
} from "./sample-files.ts";

const wholeText = (text: string, cuts: readonly number[] = []) =>
  readLaterals(inChunks(text, cuts), lateralFile, plainReading);

/** What stands in a text before another that it ends with; "" when it does not. */
const before = (text: string, end: string): string => (text.endsWith(end) ? text.slice(0, -end.length) : "");

describe("reading laterals", () => {
  it("reads a plain row into stored units", async () => {
    const { table, tally, problems, index } = await laterals(["00417,Oak,4,37.5,VCP,1962,Y,2"]);
    expect(problems).toEqual([]);
    expect(tally).toMatchObject({ read: 1, kept: 1, duplicates: 0, rejected: 0 });
    expect(column(table, "lateral")).toEqual(["00417"]);
    expect(column(table, "host_diameter")[0]).toBeCloseTo(101.6, 9); // 4 × 25.4 mm
    expect(column(table, "host_length")[0]).toBeCloseTo(11.43, 9); // 37.5 × 0.3048 m
    expect(column(table, "host_material")).toEqual(["clay"]);
    expect(column(table, "install_year")).toEqual([1962]);
    expect(column(table, "cleanout")).toEqual([1]);
    expect(column(table, "backups")).toEqual([2]);
    expect(column(table, "file_row")).toEqual([2]);
    expect(index.get("00417")).toBe(0);
    expect([...index.keys()]).toEqual(["00417"]);
    expect(indexLaterals(table).get("00417")).toBe(0);
  });

  it("has every column of the dictionary, missing where the file has none", async () => {
    const { table } = await laterals(["A,,,,,,,"]);
    for (const key of ["location", "surface", "cross_bore", "district"])
      expect(column(table, key)).toEqual([""]);
    for (const key of ["cover_main", "x", "backups"]) expect(column(table, key)).toEqual([Number.NaN]);
  });

  it("keeps missing apart from zero, and a word for nothing from the word none as an answer", async () => {
    const { table, problems } = await laterals(["A,,,,,,none,0", "B,,,,,,-,<Null>", "C,,,,UNK,,N/A,"]);
    expect(column(table, "cleanout")).toEqual([0, Number.NaN, Number.NaN]);
    expect(column(table, "backups")).toEqual([0, Number.NaN, Number.NaN]);
    expect(problems).toEqual([]);
  });

  it("tells every bad cell and keeps the row", async () => {
    const { table, problems, tally } = await laterals(["A,Oak,100,x,brick,19306,maybe,1.5"]);
    expect(tally.kept).toBe(1);
    expect(problems.map((p) => p.column)).toEqual(["DIAM", "LEN", "MAT", "YEAR", "CO", "BACKUPS"]);
    expect(describeProblem(problems[0]!)).toBe(
      'laterals.csv, row 2, column "DIAM": found "100", expected 1.97 to 15.7 in. If mm are meant, write "100 mm" or set the column\'s "unit" to "mm" in program.json.',
    );
    expect(column(table, "host_diameter")).toEqual([Number.NaN]);
  });

  it("keeps the first row of an id and says where the others are and how they differ", async () => {
    const { table, tally, problems } = await laterals([
      "A,Oak,4,30,VCP,1962,Y,0",
      "B,Oak,4,30,VCP,1962,Y,0",
      "A,Oak,4,30,VCP,1962,Y,0",
      "A,Oak,6,31,VCP,1962,Y,0",
    ]);
    expect(tally).toMatchObject({ read: 4, kept: 2, duplicates: 2, rejected: 0 });
    expect(column(table, "lateral")).toEqual(["A", "B"]);
    expect(problems.map(({ row, severity, remedy }) => [row, severity, remedy])).toEqual([
      [4, "noted", "Row 2 is the same in every column: it is used, this one is not."],
      [
        5,
        "noted",
        "Row 2 has other values in host_diameter, host_length: it is used, this one is not. Remove one of them.",
      ],
    ]);
  });

  it("takes ids that differ in leading zeros or case for different laterals", async () => {
    const { table } = await laterals(["417,,,,,,,", "00417,,,,,,,", "a,,,,,,,", "A,,,,,,,"]);
    expect(column(table, "lateral")).toEqual(["417", "00417", "a", "A"]);
  });

  it("notes once that ids differ only in leading zeros: the same pipe may be there twice", async () => {
    const { problems, tally } = await laterals([
      "34,,,,,,,",
      "7,,,,,,,",
      "0034,,,,,,,",
      "0500,,,,,,,",
      "034,,,,,,,",
      "007,,,,,,,",
      "0340,,,,,,,",
    ]);
    expect(tally.kept).toBe(7);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({ severity: "noted", row: null });
    expect(describeProblem(problems[0]!)).toContain('column "ID": found "0034 beside 34", expected ids');
    expect(problems[0]?.remedy).toMatch(/^3 id\(s\) .* in rows 4 and 2\. .*work counts twice/);
  });

  it("notes ids that begin with different numbers of zeros, and nothing of ids that are different numbers", async () => {
    expect((await laterals(["0034,,,,,,,", "034,,,,,,,"])).problems).toHaveLength(1);
    expect((await laterals(["0,,,,,,,", "000,,,,,,,"])).problems).toHaveLength(1);
    expect((await laterals(["0034,,,,,,,", "340,,,,,,,", "4,,,,,,,", "00,,,,,,,"])).problems).toEqual([]);
  });

  it("notes as many ids as differ from another in leading zeros, whatever the file", async () => {
    const digits = fc.uniqueArray(fc.stringMatching(/^[01]{1,5}$/), { minLength: 1, maxLength: 20 });
    await fc.assert(
      fc.asyncProperty(digits, async (ids) => {
        const { problems } = await laterals(ids.map((id) => `${id},,,,,,,`));
        const twice = ids.filter((id) => ids.some((other) => other !== id && /^0+$/.test(before(id, other))));
        expect(Number.parseInt(problems[0]?.remedy ?? "0", 10)).toBe(twice.length);
      }),
    );
  });

  it("rejects a row without an id", async () => {
    const { tally, problems } = await laterals([",Oak,4,30,VCP,1962,Y,0", "N/A,Oak,4,30,VCP,1962,Y,0"]);
    expect(tally).toMatchObject({ read: 2, kept: 0, rejected: 2 });
    expect(problems.map(({ row, column: heading }) => [row, heading])).toEqual([
      [2, "ID"],
      [3, "ID"],
    ]);
  });

  it("rejects subtotal rows with their own reason, and no lateral that only sounds like one", async () => {
    const { table, tally } = await laterals([
      "A,Oak,4,30,VCP,1962,Y,0",
      ",Subtotal Oak,,30,,,,",
      "TOTAL:,,,30,,,,",
      "SUM-12,Total Lane,4,30,VCP,1962,Y,0",
    ]);
    expect(tally).toMatchObject({ read: 4, kept: 2, rejected: 2, subtotals: 2 });
    expect(column(table, "lateral")).toEqual(["A", "SUM-12"]);
  });

  it("sets aside titles and blank lines, and rejects headings that come again", async () => {
    const { tally, table } = await wholeText(
      `Laterals of the town\n\n${LATERAL_HEADINGS}\nA,,,,,,,\n\n,,,,,,,\n${LATERAL_HEADINGS}\nB,,,,,,,\n`,
    );
    expect(tally).toEqual({
      read: 3,
      kept: 2,
      duplicates: 0,
      rejected: 1,
      subtotals: 0,
      repeatedHeadings: 1,
      setAside: { titles: 1, headings: 1, blanks: 3 },
    });
    expect(column(table, "file_row")).toEqual([4, 8]);
  });

  it("numbers rows as a spreadsheet does when a cell holds line breaks", async () => {
    const { table } = await laterals(['A,"Oak\nPark",,,,,,', "B,,,,,,,"]);
    expect(column(table, "file_row")).toEqual([2, 3]);
    expect(column(table, "district")).toEqual(["Oak Park", ""]);
  });

  it("rejects a row with too many cells, notes one with too few, lets trailing separators pass", async () => {
    const { tally, problems } = await laterals([
      "A,1 Oak St, Unit 2,4,30,VCP,1962,Y,0",
      "B,Oak,4",
      "C,Oak,4,30,VCP,1962,Y,0,,",
    ]);
    expect(tally).toMatchObject({ read: 3, kept: 2, rejected: 1 });
    expect(problems.map(({ row, severity, found }) => [row, severity, found])).toEqual([
      [2, "rejected", "9 cells"],
      [3, "noted", "3 cells"],
    ]);
  });

  it("does not take a remark under the table for a lateral", async () => {
    const { tally } = await laterals(["A,,,,,,,", "Source: works department"]);
    expect(tally).toMatchObject({ read: 2, kept: 1, rejected: 1 });
  });

  it("points at a stray quote mark that swallowed a row", async () => {
    const { problems, tally } = await laterals([
      'A,"Oak,4,30,VCP,1962,Y,0',
      'B,Elm",4,30,VCP,1962,Y,0',
      "C,,,,,,,",
    ]);
    expect(problems.map(describeProblem).join()).toContain("look for a stray quote mark");
    expect(tally.read).toBe(2);
  });

  it("rejects the row whose quote mark nothing closes, and says where it began", async () => {
    const { problems, tally } = await laterals(["A,,,,,,,", 'B,"Oak,4,30', "C,,,,,,,"]);
    expect(tally).toMatchObject({ read: 2, kept: 1, rejected: 1 });
    expect(problems[0]).toMatchObject({ row: 3, severity: "rejected", expected: "a closing quote mark" });
  });

  it("keeps what the dictionary does not have, word for word, also under dangerous headings", async () => {
    const { table } = await wholeText(`ID,__proto__,NOTE,NOTE,\nA, x ,"a ""b""",=1+1,z\n`);
    expect(column(table, "other:__proto__")).toEqual([" x "]);
    expect(column(table, "other:NOTE")).toEqual(['a "b"']);
    expect(column(table, "other:NOTE [2]")).toEqual(["=1+1"]);
    expect(column(table, "other:[column 5]")).toEqual(["z"]);
  });

  it("reads the second of two equal headings when the settings ask for it", async () => {
    const { table } = await readLaterals(
      inChunks("ID,DIAM,DIAM\nA,4,6\n"),
      {
        ...lateralFile,
        columns: { lateral: { heading: "ID" }, host_diameter: { heading: "DIAM [2]", unit: "in" } },
      },
      plainReading,
    );
    expect(column(table, "host_diameter")[0]).toBeCloseTo(152.4, 9); // 6 × 25.4 mm
    expect(column(table, "other:DIAM")).toEqual(["4"]);
  });

  it("reads nothing and says so when the id's heading is not there", async () => {
    const { tally, problems, table } = await wholeText("NUMBER,DIAM\nA,4\n");
    expect(tally).toMatchObject({ read: 0, kept: 0 });
    expect(table.rows).toBe(0);
    expect(problems.find(({ column: heading }) => heading === "ID")).toMatchObject({
      severity: "rejected",
      row: null,
    });
  });

  it("reads the rest and says so when another heading is not there", async () => {
    const { tally, problems } = await wholeText("ID,DIAM\nA,4\n");
    expect(tally.kept).toBe(1);
    expect(problems.map(({ column: heading }) => heading)).toEqual([
      "BASIN",
      "LEN",
      "MAT",
      "YEAR",
      "CO",
      "BACKUPS",
    ]);
  });

  it("does not read a quantity whose unit the settings do not say", async () => {
    const { table, problems } = await laterals(["A,,4,,,,,"], {
      columns: { ...lateralFile.columns, host_diameter: { heading: "DIAM" } },
    });
    expect(column(table, "host_diameter")).toEqual([Number.NaN]);
    expect(problems[0]).toMatchObject({
      row: null,
      column: "DIAM",
      expected: 'the unit of the column "host_diameter"',
    });
  });

  it("says which of the program's own words lead nowhere", async () => {
    const { table, problems } = await laterals(
      ["A,,,,LINED,,TWO-WAY,"],
      {},
      {
        ownWords: { host_material: { LINED: "plastic" }, cleanout: { "two way": "yes" } },
      },
    );
    expect(column(table, "cleanout")).toEqual([1]);
    expect(problems[0]).toMatchObject({ severity: "rejected", row: null, column: "MAT", found: "plastic" });
  });

  it("says once in which row the first unreadable character is", async () => {
    const { problems } = await laterals(["A,,,,,,,", "B,O\ufffdk,,,,,,", "C,O\ufffdk,,,,,,"]);
    expect(problems.map(({ remedy }) => remedy).join()).toContain("2 rows, the first of them row 3");
  });

  it("reads semicolons and decimal commas", async () => {
    const { table } = await readLaterals(
      inChunks("ID;DIAM\nA;101,6\n"),
      {
        ...lateralFile,
        delimiter: ";",
        decimalMark: ",",
        columns: { lateral: { heading: "ID" }, host_diameter: { heading: "DIAM", unit: "mm" } },
      },
      plainReading,
    );
    expect(column(table, "host_diameter")).toEqual([101.6]);
  });
});

describe("reading laterals, whatever the file", () => {
  const cell = fc.constantFrom(
    "",
    "A",
    "B",
    "00417",
    "4",
    "100",
    "VCP",
    "brick",
    "1962",
    "0",
    "total",
    "Y",
    "-",
    "ID",
    "DIAM",
    "__proto__",
    '"',
    '"x\ny"',
    " ",
    "1.23E+11",
    "é",
  );
  const hardText = fc
    .array(fc.tuple(fc.array(cell, { maxLength: 10 }), fc.constantFrom("\n", "\r\n", "\r")), {
      maxLength: 20,
    })
    .chain((rows) =>
      fc
        .boolean()
        .map(
          (withHeadings) =>
            (withHeadings ? `${LATERAL_HEADINGS}\n` : "") +
            rows.map(([cells, end]) => cells.join(",") + end).join(""),
        ),
    );
  const anyText = fc.oneof(
    hardText,
    fc.string(),
    fc.string().map((text) => `${LATERAL_HEADINGS}\n${text}`),
  );

  it("never throws, accounts for every row and gives each kept row once", async () => {
    await fc.assert(
      fc.asyncProperty(anyText, async (text) => {
        const { tally, table, index } = await wholeText(text);
        expect(tallyReconciles(tally)).toBe(true);
        expect(table.rows).toBe(tally.kept);
        expect(index.size).toBe(tally.kept);
      }),
      { numRuns: 500 },
    );
  });

  it("gives the same table and problems however the text is cut into chunks", async () => {
    await fc.assert(
      fc.asyncProperty(anyText, fc.array(fc.nat(500)), async (text, cuts) => {
        const [a, b] = [await wholeText(text), await wholeText(text, cuts)];
        expect(b.problems).toEqual(a.problems);
        expect(b.tally).toEqual(a.tally);
        expect(cellsOf(b.table)).toEqual(cellsOf(a.table));
      }),
      { numRuns: 300 },
    );
  });

  const id = fc
    .stringMatching(/^[0-9A-Z][0-9A-Z.-]{0,20}[0-9]$/)
    .filter((text) => !/^(sum|total)/i.test(text));
  const rows = fc.uniqueArray(
    fc.record({
      id,
      basin: fc.constantFrom("LS-14", "LS14", "Oak", ""),
      diameter: fc.constantFrom("4", "6", ""),
    }),
    { selector: (row) => row.id, minLength: 1, maxLength: 30 },
  );
  const written = (list: readonly { id: string; basin: string; diameter: string }[]) =>
    list.map((row) => `"${row.id}",${row.basin},${row.diameter},,,,,`);

  it("gives back the ids that were written", async () => {
    await fc.assert(
      fc.asyncProperty(rows, async (list) => {
        expect(column((await laterals(written(list))).table, "lateral")).toEqual(list.map((row) => row.id));
      }),
    );
  });

  it("gives the same laterals in another order when the rows come in another order", async () => {
    await fc.assert(
      fc.asyncProperty(
        rows.chain((list) =>
          fc.tuple(fc.constant(list), fc.shuffledSubarray(list, { minLength: list.length })),
        ),
        async ([list, shuffled]) => {
          const [a, b] = [await laterals(written(list)), await laterals(written(shuffled))];
          expect(new Set(b.index.keys())).toEqual(new Set(list.map(({ id }) => id)));
          for (const key of ["district", "host_diameter"]) {
            const [inA, inB] = [column(a.table, key), column(b.table, key)];
            for (const { id } of list) expect(inB[b.index.get(id)!]).toEqual(inA[a.index.get(id)!]);
          }
        },
      ),
    );
  });
});
