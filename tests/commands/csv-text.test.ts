import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { csvCell, csvLine } from "../../src/commands/csv-text.ts";

describe("a line of CSV", () => {
  it.each([
    ['=HYPERLINK("http://x")', '"\'=HYPERLINK(""http://x"")"'],
    ["+1", "'+1"],
    ["-2+3", "'-2+3"],
    ["@SUM(A1)", "'@SUM(A1)"],
    ["  =1+1", "'  =1+1"],
    ["\t=1", "'\t=1"],
    ["＝1+1", "'＝1+1"],
    ["00417", "00417"],
    ["37'-6\"", '"37\'-6"""'],
  ])("takes the edge off %j", (text, written) => {
    expect(csvCell(text)).toBe(written);
  });

  it("writes numbers plainly, below zero too", () => {
    expect(csvLine([-12.5, 0, null, 1e21])).toBe("-12.5,0,,1e+21\r\n");
  });

  it("is read back as it was written", () => {
    const text = fc.string({ unit: "binary" }).filter((each) => each !== "");
    fc.assert(
      fc.property(fc.array(text, { minLength: 1 }), (cells) => {
        // The delimiter is stated: left to guess, a parser may take a line of tabs for tab-separated. A first cell keeps a byte order mark inside.
        const { data } = Papa.parse<string[]>(csvLine(["id", ...cells]), { newline: "\r\n", delimiter: "," });
        const [, ...rest] = data[0]!;
        expect(rest.map((cell, i) => (cell === `'${cells[i]}` ? cell.slice(1) : cell))).toEqual(cells);
      }),
    );
  });
});
