import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Operand, workOut } from "../../src/bidding/plain-arithmetic.ts";

const cells: Readonly<Record<string, readonly Operand[]>> = {
  B4: [120],
  $B$5: [1.5],
  "B4:B6": [120, 1.5, null, { not: "B6 holds text", isText: true }],
  B6: [{ not: "B6 holds text", isText: true }],
  B7: [{ not: "in B7 it has VLOOKUP() in it" }],
  B8: [null],
  "'Unit costs'!C2": [7],
};
const given = (formula: string) => {
  const found = workOut(formula, (reference) => cells[reference] ?? null);
  return found.ok ? found.value : found.because;
};

describe("a formula of plain arithmetic", () => {
  it.each([
    ["1200*1.15", 1380],
    ["(2+3)*4-6/3", 18],
    // A sign is taken before a power, and powers from the left: as the recalculation test shows of a spreadsheet.
    ["-2^2", 4],
    ["2^3^2", 64],
    ["200*15%", 30],
    ["B4*$B$5", 180],
    ["B4+B8", 120],
    ["SUM(B4:B6)", 121.5],
    ["sum(B4:B6, 8.5)*2", 260],
    ["ROUND(B4*1.005/120,2)", 1.01],
    ["ROUND(-2.5,0)", -3],
    ["ROUND(1234,-2)", 1200],
    ["'Unit costs'!C2*3", 21],
    ["+4 - -3", 7],
    [".5e1", 5],
  ])("%s is %d", (formula, value) => {
    expect(given(formula)).toBe(value);
  });

  it("of any text at all is worked out to a number or left alone, and nothing is thrown", () => {
    const piece = fc.constantFrom(
      "(",
      ")",
      "-",
      "^",
      "%",
      ",",
      ":",
      "$",
      "!",
      "'",
      "B4",
      "SUM(",
      "ROUND(",
      "1e9",
      " ",
      "é",
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(piece, { maxLength: 200 }).map((of) => of.join("")),
        ),
        (text) => {
          const found = workOut(text, () => [1]);
          expect(found.ok ? Number.isFinite(found.value) : found.because.length > 0).toBe(true);
        },
      ),
    );
  });

  it.each([
    ["VLOOKUP(B4,C1:D9,2)", "it has VLOOKUP() in it"],
    ['B4&" each"', 'it has "&\\" each\\""'],
    ["RATE*2", "it has the name RATE in it"],
    ["B6*2", "B6 holds text"],
    ["B7*2", "in B7 it has VLOOKUP() in it"],
    ["B4:B6*2", "it counts with the range B4:B6"],
    ["[1]Costs!B4", 'it has "[1]Costs!B4" in it'],
    ["Elsewhere!B4", "Elsewhere!B4 cannot be followed"],
    ["1/0", "it gives no number"],
    ["1/(1/0)", "it gives no number"],
    ["2+", "it is not plain arithmetic"],
    ["(2", "it is not plain arithmetic"],
    ["2 3", "it is not plain arithmetic"],
    ["", "it is not plain arithmetic"],
    ["ROUND(2)", "its ROUND() has not two arguments"],
    [`${"(".repeat(500)}1${")".repeat(500)}`, "it is nested too deep"],
    [`1${"+1".repeat(30_000)}`, "it is too long"],
  ])("%s is left alone, with the reason", (formula, because) => {
    expect(given(formula)).toContain(because);
  });
});
