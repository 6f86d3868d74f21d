import { describe, expect, it } from "vitest";
import { MOST_PROBLEMS, ProblemList } from "../../src/intake/cell-problem.ts";
import { MOST_COLUMNS } from "../../src/intake/city-rows.ts";
import { readLaterals } from "../../src/intake/lateral-file.ts";
import { LONGEST_RECORD, MOST_READ, type RecordBatch, readRecords } from "../../src/intake/records.ts";
import { inChunks, LATERAL_HEADINGS, lateralFile, plainReading } from "./sample-files.ts";

/** Text that never ends, and how much of it was asked for. */
function endless(start: string, more: string) {
  const given = { characters: 0 };
  async function* chunks() {
    yield Buffer.from(start);
    for (;;) {
      given.characters += more.length;
      yield Buffer.from(more);
    }
  }
  return { given, chunks: chunks() };
}

async function read(chunks: AsyncIterable<Uint8Array>, most: { rows: number; characters: number }) {
  let rows = 0;
  let last: { readonly ending: RecordBatch["ending"]; readonly row: number } | undefined;
  for await (const batch of readRecords(chunks, ",", 64, most)) {
    rows += batch.rows;
    last = { ending: batch.ending, row: batch.block.firstRow + batch.rows - 1 };
  }
  return { rows, last };
}

describe("a file that goes on and on", () => {
  it("stops at a stated number of rows, wherever the text is cut", async () => {
    for (const more of ["1,2\n", "1,2\n".repeat(1000), "\n"]) {
      const { given, chunks } = endless("a,b\n", more);
      const { rows, last } = await read(chunks, { rows: 50, characters: 1e9 });
      expect(last?.ending).toBe("too much");
      // The row beyond is handed over to be named, and no other.
      expect(rows).toBe(51);
      expect(last?.row).toBe(51);
      expect(given.characters).toBeLessThan(10_000);
    }
  });

  it("stops at a stated number of characters", async () => {
    const { given, chunks } = endless("a,b\n", `1,${"x".repeat(40)}\n`);
    const { last } = await read(chunks, { rows: 1e9, characters: 5_000 });
    expect(last?.ending).toBe("too much");
    expect(given.characters).toBeLessThan(6_000);
  });

  it("of just so many rows is read whole", async () => {
    const { rows, last } = await read(inChunks("a,b\n1,2\n3,4\n"), { rows: 3, characters: 100 });
    expect([rows, last?.ending]).toEqual([3, "ends"]);
  });

  it("has limits a state's million laterals are far from, and text pools never reach", () => {
    expect(MOST_READ.rows).toBeGreaterThanOrEqual(5e6);
    // 24 columns of 13 characters; UTF-8 takes at most three bytes for a character, and an offset has 32 bits.
    expect(MOST_READ.characters).toBeGreaterThan(3 * 1e6 * 24 * 13);
    expect(3 * MOST_READ.characters).toBeLessThan(2 ** 32);
  });
});

describe("a file of giant cells or columns", () => {
  it("is stopped in a cell that has no end, with the reason", async () => {
    const { given, chunks } = endless(`${LATERAL_HEADINGS}\n1,"`, "x".repeat(1 << 16));
    const { problems, tally } = await readLaterals(chunks, lateralFile, plainReading);
    expect(problems.map(({ remedy }) => remedy).join()).toContain(`${LONGEST_RECORD} characters`);
    expect(problems.every(({ found }) => found.length < 2_000)).toBe(true);
    expect(tally).toMatchObject({ read: 1, kept: 0, rejected: 1 });
    expect(given.characters).toBeLessThan(LONGEST_RECORD + (1 << 18));
  });

  it("is refused whole when it has more columns than are ever kept", async () => {
    const wide = `${LATERAL_HEADINGS}${",x".repeat(MOST_COLUMNS)}\n`;
    const { problems, table } = await readLaterals(inChunks(`${wide}1,2\n`), lateralFile, plainReading);
    expect(table.rows).toBe(0);
    expect(problems).toMatchObject([
      { severity: "rejected", found: "1008 columns", expected: `at most ${MOST_COLUMNS} columns` },
    ]);
    const fits = `${LATERAL_HEADINGS}${",x".repeat(MOST_COLUMNS - 8)}\n`;
    const narrow = await readLaterals(inChunks(`${fits}1,2\n`), lateralFile, plainReading);
    expect(narrow.table.rows).toBe(1);
  });
});

describe("a file in which everything is wrong", () => {
  it("has so many of its problems listed and the others counted", () => {
    expect(MOST_PROBLEMS).toBeGreaterThanOrEqual(100_000);
    const list = new ProblemList("a.csv", 3);
    for (let row = 1; row <= 10; row++)
      list.add(row === 9 ? "rejected" : "noted", row, "x", "y".repeat(5_000), "z", "w");
    list.add("noted", null, null, "the whole file", "z", "w");
    const problems = list.finish();
    expect(problems.map(({ found }) => found.slice(0, 15))).toEqual([
      "the whole file",
      "7 more problems",
      "yyyyyyyyyyyyyyy",
      "yyyyyyyyyyyyyyy",
      "yyyyyyyyyyyyyyy",
    ]);
    expect(problems[1]?.severity).toBe("rejected");
    expect(problems.every(({ found }) => found.length <= 1_001)).toBe(true);
  });

  it("has those of its first rows listed, although a block of rows is read column by column", () => {
    const list = new ProblemList("a.csv", 3);
    list.startBlock();
    for (const column of ["x", "y"])
      for (const row of [2, 3, 4]) list.add("noted", row, column, "", "z", "w");
    list.endBlock();
    const problems = list.finish().map(({ row, column, found }) => [row, column, found]);
    expect(problems).toEqual([
      [null, null, "3 more problems"],
      [2, "x", ""],
      [2, "y", ""],
      [3, "x", ""],
    ]);
  });
});
