import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LONGEST_RECORD, type RecordBatch, readRecords } from "../../src/intake/records.ts";
import { inChunks } from "./sample-files.ts";

async function read(text: string, cuts: readonly number[] = [], pieceLength?: number) {
  const records: string[][] = [];
  const firstRows: number[] = [];
  let last: RecordBatch["ending"] = "ends";
  for await (const { block, rows, ending } of readRecords(inChunks(text, cuts), ",", pieceLength)) {
    for (let row = 0; row < rows; row++) records.push(block.cells(row));
    firstRows.push(block.firstRow);
    last = ending;
  }
  return { records, ending: last, firstRows };
}

/** Text with everything that makes CSV hard. */
const hardText = fc
  .array(
    fc.constantFrom(",", '"', '""', "\n", "\r", "\r\n", "a", "4", " ", "__proto__", "\ufeff", "é", "𝄞"),
    {
      maxLength: 60,
    },
  )
  .map((parts) => parts.join(""));

describe("records of a CSV text", () => {
  it("takes CR LF, LF and CR as line ends, mixed, also inside quoted cells", async () => {
    const { records } = await read('a,b\r\n1,"x\r\ny"\n2,"x\ry"\r3,z');
    expect(records).toEqual([
      ["a", "b"],
      ["1", "x\ny"],
      ["2", "x\ny"],
      ["3", "z"],
    ]);
  });

  it("takes a CR LF cut between two chunks as one line end", async () => {
    expect((await read("a\r\nb", [2])).records).toEqual([["a"], ["b"]]);
    expect((await read("a\r\nb", [2, 2, 3])).records).toEqual([["a"], ["b"]]);
  });

  it("drops a byte order mark, also before a quoted heading", async () => {
    expect((await read('\ufeff"ID",b\n1,2\n')).records[0]).toEqual(["ID", "b"]);
  });

  it("keeps an inch mark inside an unquoted cell", async () => {
    expect((await read('1,4",30\n2,"6""",40\n')).records).toEqual([
      ["1", '4"', "30"],
      ["2", '6"', "40"],
    ]);
  });

  it("counts a record with line breaks in a cell as one row", async () => {
    const { records, firstRows } = await read('a,"1\n2\n3"\nb,4\nc,5\n', [], 4);
    expect(records.length).toBe(3);
    expect(firstRows.at(-1)).toBe(3);
  });

  it("says that the last record's quote is never closed", async () => {
    const { records, ending } = await read('a,b\n1,"Main St\n2,c\n3,d\n');
    expect(ending).toBe("unclosed");
    expect(records.at(-1)).toEqual(["1", "Main St\n2,c\n3,d\n"]);
  });

  it("stops at a record that never ends instead of reading it again and again", async () => {
    let given = 0;
    async function* endless() {
      yield Buffer.from('a,b\n1,"Main St\n');
      for (; given < 1000; given++) yield Buffer.from("2,c\n".repeat(1 << 14));
    }
    const endings: [RecordBatch["ending"], firstRow: number][] = [];
    for await (const { ending, block } of readRecords(endless(), ",")) endings.push([ending, block.firstRow]);
    expect(endings.at(-1)).toEqual(["runaway", 2]);
    // 1 MiB in chunks of 64 KiB is 16, and one that takes it over the limit.
    expect(given).toBeLessThanOrEqual(17);
  });

  it("takes the longest allowed record", async () => {
    const { records, ending } = await read(`a,"${"x".repeat(LONGEST_RECORD - 70_000)}"\nb,2\n`);
    expect(ending).toBe("ends");
    expect(records.length).toBe(2);
  });

  it("gives the same records however the text is cut into chunks", async () => {
    await fc.assert(
      fc.asyncProperty(hardText, fc.array(fc.nat(60)), async (text, cuts) => {
        expect(await read(text, cuts)).toEqual(await read(text));
      }),
      { numRuns: 500 },
    );
  });

  it("gives the same records whatever the length of a piece", async () => {
    await fc.assert(
      fc.asyncProperty(hardText, fc.integer({ min: 1, max: 20 }), async (text, pieceLength) => {
        const { records, ending } = await read(text, [], pieceLength);
        const whole = await read(text);
        expect(records).toEqual(whole.records);
        expect(ending).toBe(whole.ending);
      }),
      { numRuns: 500 },
    );
  });

  it("reads back what was written with quotes around every cell", async () => {
    const cell = fc.string({ unit: "grapheme" }).map((text) => text.replace(/\r\n?/g, "\n"));
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(cell, cell, cell), { minLength: 1 }), async (rows) => {
        const text = rows.map((row) => row.map((c) => `"${c.replaceAll('"', '""')}"`).join(",")).join("\r\n");
        expect((await read(text)).records).toEqual(rows);
      }),
    );
  });
});
