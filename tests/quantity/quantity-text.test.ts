import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readNumber, readQuantity } from "../../src/quantity/quantity-text.ts";

const value = (
  text: string,
  measure: Parameters<typeof readQuantity>[1],
  bare: Parameters<typeof readQuantity>[2],
  mark: "." | "," = ".",
) => {
  const read = readQuantity(text, measure, bare, mark);
  return read.ok ? read.value : read.expected;
};

describe("readNumber", () => {
  it.each([
    ["12", 12],
    ["-3.5", -3.5],
    ["1,234.5", 1234.5],
    [".5", 0.5],
    ["04", 4],
    [" 7 ", 7],
  ])("reads %j", (text, expected) => {
    expect(readNumber(text, ".")).toEqual({ ok: true, value: expected });
  });

  it.each(["", "-", "3E00", "0x10", "1,23", "12,34,567", "1.2.3", "4 in", "NaN", "Infinity", "1e5"])(
    "refuses %j",
    (text) => {
      expect(readNumber(text, ".").ok).toBe(false);
    },
  );

  it("reads decimal commas with grouping points where the file declares them", () => {
    expect(readNumber("1.234,5", ",")).toEqual({ ok: true, value: 1234.5 });
    expect(readNumber("37,5", ",")).toEqual({ ok: true, value: 37.5 });
    expect(readNumber("37.5", ",").ok).toBe(false);
  });
});

describe("readQuantity", () => {
  it("takes a bare number in the column's unit", () => {
    expect(value("4", "diameter", "in")).toBeCloseTo(101.6, 12);
    expect(value("04", "diameter", "in")).toBeCloseTo(101.6, 12);
    expect(value("8", "length", "ft")).toBeCloseTo(2.4384, 12);
  });

  it("lets a cell carry its own unit", () => {
    expect(value('4"', "diameter", "mm")).toBeCloseTo(101.6, 12);
    expect(value("4 IN", "diameter", "mm")).toBeCloseTo(101.6, 12);
    expect(value("100 mm", "diameter", "in")).toBeCloseTo(100, 12);
    expect(value("0.33 ft", "diameter", "in")).toBeCloseTo(100.584, 9);
    expect(value("2,5 m", "length", "ft", ",")).toBeCloseTo(2.5, 12);
    expect(value("2 %", "percent", "percent")).toBeCloseTo(0.02, 15);
  });

  it("takes a nominal size of a pipe as so many millimetres, and of nothing else", () => {
    // ISO 6708: DN is a number near the bore in mm.
    for (const text of ["DN 150", "DN150", "dn 150"]) expect(value(text, "diameter", "in")).toBe(150);
    for (const text of ["DN", "DN 1/2", "DN 150 mm", "150 DN"])
      expect(readQuantity(text, "diameter", "in").ok).toBe(false);
    expect(readQuantity("DN 150", "length", "m").ok).toBe(false);
  });

  it("names the mark that decimals should have", () => {
    for (const [text, mark, expected] of [
      ["12.5", ",", "decimals with a comma"],
      ["12.5 m", ",", "decimals with a comma"],
      ["12,5", ".", "decimals with a point"],
      ["12,5 m", ".", "decimals with a point"],
    ] as const)
      expect(readQuantity(text, "length", "m", mark)).toEqual({ ok: false, expected });
  });

  it("reads feet and inches written together, with fractions", () => {
    // 37 ft 6 in = 37.5 ft = 11.43 m exactly.
    expect(value(`37'-6"`, "length", "ft")).toBeCloseTo(11.43, 12);
    expect(value("37' 6\"", "length", "m")).toBeCloseTo(11.43, 12);
    expect(value('4 1/2"', "diameter", "mm")).toBeCloseTo(114.3, 12);
    expect(value(`3'-4 1/2"`, "length", "ft")).toBeCloseTo((3 * 12 + 4.5) * 0.0254, 12);
  });

  it("converts temperatures with their zero", () => {
    // 250 °F is 121.1 °C.
    expect(value("250 °F", "temperature", "degC")).toBeCloseTo(121.111, 3);
  });

  it("says what it expected, with an example", () => {
    expect(value("four", "diameter", "in")).toBe(
      "a number, or a number with its unit (such as 4 in or 4 mm)",
    );
    expect(value("4 psi", "diameter", "in")).toBe(
      "a unit of diameter after the number (such as 4 in or 4 mm)",
    );
    expect(value("4 lightyears", "length", "ft")).toBe(
      "a unit the program knows after the number (such as 4 ft or 4 m)",
    );
  });

  it("never throws, whatever the text", () => {
    fc.assert(
      fc.property(fc.string(), fc.constantFrom("." as const, "," as const), (text, mark) => {
        const read = readQuantity(text, "length", "ft", mark);
        expect(read.ok ? Number.isFinite(read.value) : read.expected.length > 0).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });
});
