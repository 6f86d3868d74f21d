import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { scanJson } from "../../src/program/json-places.ts";

const fault = (text: string) => {
  const scan = scanJson(text);
  if (scan.ok) throw new Error(`no fault in ${text}`);
  return scan;
};

describe("where things stand in program.json", () => {
  it("names line and column of a key, counted from 1", () => {
    const scan = scanJson('{\n  "units": "us",\n  "laterals": { "file": "a.csv" },\n  "list": [1,\n 2]\n}');
    if (!scan.ok) throw new Error(scan.expected);
    expect(scan.placeOf(["units"])).toEqual({ line: 2, column: 3 });
    expect(scan.placeOf(["laterals", "file"])).toEqual({ line: 3, column: 17 });
    expect(scan.placeOf(["list", 1])).toEqual({ line: 5, column: 2 });
  });

  it("puts a missing key where the group is that lacks it", () => {
    const scan = scanJson('{\n  "laterals": {}\n}');
    expect(scan.ok && scan.placeOf(["laterals", "file"]).line).toBe(2);
  });

  it("says what is wrong with the usual slips, and where", () => {
    expect(fault('{ "a": 1,\n}')).toMatchObject({
      expected: "no comma before }",
      place: { line: 1, column: 9 },
    });
    expect(fault("{ 'a': 1 }").expected).toBe('double quotes (") around text');
    expect(fault('{\n  "a": 1\n  "b": 2\n}')).toMatchObject({
      expected: "a comma or } after the value",
      place: { line: 3, column: 3 },
      line: '"b": 2',
    });
    expect(fault('{ "a": 1 // inches\n}').expected).toBe("a comma or } after the value");
    expect(fault('{ "a": // inches\n1}').expected).toBe("a value: JSON has no comments");
    expect(fault('{ "a": "x\n" }').expected).toBe("text that ends with a double quote on the same line");
    expect(fault("").place).toEqual({ line: 1, column: 1 });
  });

  it("refuses a key given twice, whose first value would be ignored", () => {
    expect(fault('{ "a": 1,\n "a": 2 }')).toMatchObject({
      expected: 'the key "a" once, not twice',
      place: { line: 2, column: 2 },
    });
  });

  it("shows the part of a long line where the fault is", () => {
    const text = `{ "a": "${"x".repeat(300)}" ; }`;
    expect(fault(text).line).toContain(";");
    expect(fault(text).line.length).toBeLessThanOrEqual(60);
  });

  // The other road: JSON.parse must accept exactly the same texts (duplicate keys and __proto__ aside).
  it("accepts what JSON.parse accepts and nothing else, however a text is damaged", () => {
    const damaged = fc
      .tuple(
        fc.jsonValue({ maxDepth: 3 }),
        fc.nat(),
        fc.constantFrom("", ",", '"', "{", "]", "\\", "1", "\n", " ", "e"),
      )
      .map(([value, at, put]) => {
        const text = JSON.stringify(value, null, 1);
        const i = at % (text.length + 1);
        return text.slice(0, i) + put + text.slice(i + (at % 2));
      });
    fc.assert(
      fc.property(damaged, (text) => {
        let valid = true;
        try {
          JSON.parse(text);
        } catch {
          valid = false;
        }
        const scan = scanJson(text);
        if (!scan.ok && / once, not twice|meaning of its own/.test(scan.expected)) return;
        expect(scan.ok).toBe(valid);
      }),
      { numRuns: 2000 },
    );
  });
});
