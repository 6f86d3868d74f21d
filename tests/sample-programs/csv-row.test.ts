import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { csvRow, decimal, thousands } from "../../sample-programs/csv-row.ts";
import { encodeWindows1252 } from "../../sample-programs/text-file.ts";

describe("rows of a sample file", () => {
  it("come back from another parser cell by cell, whatever is in them", () => {
    const cell = fc.string({
      unit: fc.constantFrom("a", "4", '"', ",", ";", "\n", " ", "'", "=", "ä"),
      maxLength: 8,
    });
    fc.assert(
      fc.property(
        fc.array(cell, { minLength: 2, maxLength: 6 }),
        fc.constantFrom(",", ";"),
        (cells, delimiter) => {
          const { data } = Papa.parse<string[]>(csvRow(cells, delimiter, "\r\n"), {
            delimiter,
            newline: "\r\n",
          });
          expect(data[0]).toEqual(cells);
        },
      ),
    );
  });

  it("write the decimal mark and the thousands mark of the file", () => {
    expect(decimal(37.5, 2, ",")).toBe("37,50");
    expect(thousands(4812.5, 1, ".")).toBe("4,812.5");
    expect(thousands(1204231.334, 2, ",")).toBe("1.204.231,33");
    expect(thousands(1155, 0, ".")).toBe("1,155");
    expect(thousands(999, 0, ".")).toBe("999");
  });

  it("are bytes of code page 1252 where the file says so", () => {
    // Code page 1252: ä E4, ß DF, en dash 96, euro 80 (WHATWG Encoding Standard, index windows-1252).
    expect([...encodeWindows1252("aä–€ß")]).toEqual([0x61, 0xe4, 0x96, 0x80, 0xdf]);
    expect(() => encodeWindows1252("Łódź")).toThrow('"Ł"');
  });
});
