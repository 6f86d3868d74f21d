import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sheetColumns } from "../../src/columns/dictionary.ts";
import { isReserved } from "../../src/formula/vocabulary.ts";
import { convert, type UnitKey } from "../../src/quantity/units.ts";
import { METRES } from "../oracle/formula-meaning.ts";
import { formulaOf, refusal, refusedAt, resultOf, vocabulary } from "./sheet-vocabulary.ts";

describe("a number with its unit", () => {
  // Wherever mathjs could read `in` as its conversion, or `min` as its function.
  it.each([
    ["host_diameter > 6 in", 1],
    ["6 in < host_diameter", 1],
    ["(6 in) < host_diameter", 1],
    ["6 in + 2 in > host_diameter", 1],
    ["host_diameter > 6 in and host_diameter < 9 in", 1],
    ["host_diameter > 6 in ? host_diameter < 8 in : false", 1],
    ["host_diameter > 6in", 1],
    ["max(6 in, 2 in) < host_diameter", 1],
    ["host_diameter - 6 in > -6 in", 1],
    ["host_diameter > 1/2 ft", 1],
    ["crew_minutes < 5 min", 0],
    ["min(5 min, 1 h) < crew_minutes", 1],
  ])("%s is read as a length or time, not as a conversion or function", (text, expected) => {
    // 7 in is 177.8 mm.
    expect(resultOf(text, { host_diameter: 177.8, crew_minutes: 30 })).toBe(expected);
  });

  it.each([
    ["6 in", "diameter", 152.4],
    ["30 ft", "length", 9.144],
    ["100 mm", "length", 0.1],
    ["5 years", "age", 5],
    ["20 psi", "pressure", 137.895], // 1 psi = 6.894757 kPa, NIST SP 811 Appendix B.8
    ["2 percent", "percent", 0.02],
    ["12.34 usd", "money", 1234],
    ["50 cents", "money", 50],
    ["3 ft^2", "area", 0.27870912], // 9.290304e-2 m² each, NIST SP 811 Appendix B.8
    ["(3 ft)^2", "area", 0.83612736], // 9 ft²
    ["1/2 in", "length", 0.0127],
    ["-6 in", "length", -0.1524],
    ["90 min", "duration", 90],
    ["20 h", "duration", 1200],
  ] as const)("%s delivered as %s is %d in the stored unit", (text, measure, expected) => {
    // Three decimals of kPa are all that the tabulated factor gives; the rest is exact but for the last bits.
    expect(resultOf(text, {}, measure)).toBeCloseTo(expected, measure === "pressure" ? 3 : 12);
  });

  it("compares equal to the same size in any other unit, whichever the city wrote", () => {
    const unit = fc.constantFrom<keyof typeof METRES & UnitKey>("m", "mm", "cm", "ft", "in");
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 400 }), unit, unit, (halves, written, asked) => {
        const size = halves / 2;
        const stored = convert(size, written, "mm");
        const literal = (size * METRES[written]) / METRES[asked];
        fc.pre(!String(literal).includes("e"));
        expect(resultOf(`host_diameter == ${literal} ${asked}`, { host_diameter: stored })).toBe(1);
        expect(resultOf(`host_diameter > ${literal} ${asked}`, { host_diameter: stored })).toBe(0);
        expect(resultOf(`host_diameter < ${literal} ${asked}`, { host_diameter: stored })).toBe(0);
      }),
    );
  });

  it("does not find a pipe of 152.4 mm larger than 6 in, which is 152.39999999999998 mm to a computer", () => {
    expect(6 * 25.4).not.toBe(152.4);
    expect(resultOf("host_diameter > 6 in", { host_diameter: 152.4 })).toBe(0);
    expect(resultOf("host_diameter >= 6 in", { host_diameter: 152.4 })).toBe(1);
    expect(resultOf("host_diameter > 6 in", { host_diameter: 152.5 })).toBe(1);
  });

  it("adds a length in metres and a diameter in millimetres", () => {
    expect(resultOf("host_length + host_diameter", { host_length: 9, host_diameter: 150 }, "length")).toBe(
      9.15,
    );
  });

  it("gives a column by itself to the last bit, without a trip through metres", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, min: 0, max: 1e6 }), (stored) => {
        expect(resultOf("host_diameter", { host_diameter: stored })).toBe(stored);
      }),
    );
  });

  it("names no column like a unit, so every unit's name is free", () => {
    expect(sheetColumns.filter(({ key }) => isReserved(key))).toEqual([]);
  });

  it("counts money in the program's currency only", () => {
    expect(resultOf("cost > 500 USD", { cost: 60_000 })).toBe(1);
    expect(refusal("cost > 500 eur")).toContain("The program counts in USD: write 500 usd.");
    const canadian = { ...vocabulary, currency: "CAD" };
    expect(formulaOf("cost > 500 cad", "flag", canadian).reads).toEqual(["cost"]);
    expect(refusal("cost > 500 usd", canadian)).toContain("write 500 cad");
  });

  it("rounds a result in money to whole cents", () => {
    // 10.05 × 1.1 = 11.055
    expect(resultOf("cost * 1.1", { cost: 1005 })).toBe(1106);
  });
});

describe("a sum that has no meaning", () => {
  it("says what to write for a number without a unit", () => {
    expect(refusal("host_length + 3")).toBe(
      [
        "host_length + 3",
        "              ^",
        "Character 15: found 3, a plain number; expected a length. 3 has no unit; write 3 ft or 3 m.",
      ].join("\n"),
    );
    expect(refusal("host_diameter > 6")).toContain("6 has no unit; write 6 in or 6 mm.");
    expect(refusal("3 < host_length")).toContain("write 3 ft or 3 m");
    expect(refusedAt("3 < host_length")).toBe(0);
    expect(refusal("cost > 500")).toContain("write 500 usd");
    expect(refusal("max(0, host_length)")).toContain("write 0 ft or 0 m");
    expect(refusal("inspection_age > 5")).toContain("write 5 years");
  });

  it.each([
    ["host_length + cost", 14, "found cost, money; expected a length"],
    ["host_length * host_length > host_length", 28, "expected an area"],
    ["cleanout + 1", 0, "write (…) ? 1 : 0"],
    ["surface + 1", 0, "Text is only compared"],
    ["exp(host_length)", 4, "exp(… / (1 ft))"],
    ["round(host_diameter)", 6, "round(… / (1 in))"],
    ["host_length ^ risk", 14, "Divide the base by a unit first"],
    ["2 ^ host_length", 4, "expected a plain number as power"],
    ["cleanout ? host_length : 0", 25, "write 0 ft or 0 m"],
    ["risk ? 1 : 2", 0, "expected yes or no"],
    ["not risk > 3", 4, "parentheses around a comparison after not"],
    ["cleanout < true", 0, "Only == and != compare yes and no"],
    ["cost / host_length", 0, "a quantity in money·m^-1"],
    ["if_missing(host_length, 3)", 24, "write 3 ft or 3 m"],
  ])("%s is refused at character offset %i", (text, at, words) => {
    expect(refusedAt(text)).toBe(at);
    expect(refusal(text)).toContain(words);
  });

  it("follows dimensions through products, powers and roots", () => {
    expect(formulaOf("sqrt(host_length * host_diameter)").measure).toBe("length");
    expect(formulaOf("host_length * host_diameter").measure).toBe("area");
    expect(formulaOf("resin / host_length").measure).toBe("area");
    expect(formulaOf("(host_length ^ 0.1) ^ 10 + 1 m").measure).toBe("length");
    expect(formulaOf("host_diameter / 2").measure).toBe("diameter");
    expect(formulaOf("cost / (host_length / (1 ft))").measure).toBe("money");
    // 36.576 m is 120 ft, so 6,000.00 over 120 ft is 50.00 a foot.
    expect(resultOf("cost / (host_length / (1 ft))", { cost: 600_000, host_length: 36.576 })).toBe(5000);
    // sqrt(4 m × 250 mm) = 1 m
    expect(resultOf("sqrt(host_length * host_diameter)", { host_length: 4, host_diameter: 250 })).toBe(1);
  });

  it("delivers only what fits the measure asked for", () => {
    expect(refusal("host_length", vocabulary, "area")).toContain("found a length; expected an area");
    expect(refusal("risk", vocabulary, "flag")).toContain("Compare it with something, as in risk > 12.");
    expect(resultOf("host_length", { host_length: 2 }, "diameter")).toBe(2000);
  });
});

describe("dates", () => {
  const rows = { inspected_on: 20_513 - 2000 };

  it("subtract to a time", () => {
    // 2,000 days ÷ 365.2425 = 5.4758 years
    expect(resultOf("as_of - inspected_on", rows)).toBeCloseTo(5.4758, 4);
    expect(resultOf("as_of - inspected_on > 5 years", rows)).toBe(1);
    expect(resultOf("as_of - inspected_on == 2000 days", rows)).toBe(1);
    expect(resultOf("(as_of - inspected_on) / (1 day)", rows)).toBe(2000);
  });

  it("move by a time and compare with a date in quotes", () => {
    expect(resultOf("inspected_on < as_of - 5 years", rows)).toBe(1);
    expect(resultOf("inspected_on + 10 days", rows)).toBe(18_523);
    // Day 18,513 is 2020-09-08: 18,262 (2020-01-01) + 251 days.
    expect(resultOf('inspected_on == "2020-09-08"', rows)).toBe(1);
    expect(resultOf('"2020-09-09" > inspected_on', rows)).toBe(1);
    expect(resultOf("year_of(inspected_on)", rows)).toBe(2020);
    expect(resultOf("max(inspected_on, as_of)", rows)).toBe(20_513);
  });

  it.each([
    ["as_of + 3", "Write 3 days or 3 years"],
    ["as_of + as_of", "expected a time"],
    ["as_of * 2", "year_of(date) is a plain number"],
    ['inspected_on < "spring"', 'a date such as "2025-03-31"'],
    ['inspected_on < "2025-02-30"', 'a date such as "2025-03-31"'],
    ["as_of > 2020", "expected a date"],
    ["5 years - as_of", "found"],
  ])("%s is refused", (text, words) => {
    expect(refusal(text)).toContain(words);
  });
});

describe("text", () => {
  it("is compared with a text in quotes and with nothing else", () => {
    expect(resultOf('surface == "street"', { surface: "street" })).toBe(1);
    expect(resultOf('surface != "street"', { surface: "street" })).toBe(0);
    expect(resultOf("district == 'North'", { district: "North" })).toBe(1);
    expect(resultOf('"North" != district', { district: "South" })).toBe(1);
    expect(refusal('surface == "gras"')).toContain('expected one of "street", "alley"');
    expect(refusal("surface == street")).toContain('unknown name "street"');
    expect(refusal("district == location")).toContain("Text is only compared with a text in quotes");
    expect(refusal('surface < "street"')).toContain("Texts have no order here.");
    expect(refusal('surface == ""')).toContain("Write not known(surface)");
    expect(refusal('host_length == "3"')).toContain("Leave the quotes out");
    expect(refusal('"a" == "b"')).toContain("a column on one side");
    expect(refusal('"a"')).toContain("stands only beside == or !=");
  });
});

describe("stages", () => {
  it("a formula names columns of earlier stages only", () => {
    const scoring = { ...vocabulary, stage: "risk" as const };
    expect(formulaOf("structural_grade * 2 + host_length / (1 m)", null, scoring).reads).toHaveLength(2);
    expect(refusal("1 + cost", scoring)).toContain(
      'found cost, which is filled by the stage "cost"; expected a column of a stage before "risk"',
    );
    expect(refusedAt("1 + cost", scoring)).toBe(4);
    expect(() => formulaOf("risk", null, scoring)).toThrow('stage "risk"');
    expect(formulaOf("risk > 12", "flag", { ...vocabulary, stage: "treatment" }).reads).toEqual(["risk"]);
  });

  it("an unknown name is answered with the nearest ones within reach", () => {
    expect(refusal("host_diametr > 6 in")).toContain("Did you mean host_diameter?");
    expect(refusal("host")).toContain("Did you mean host_diameter or host_length or host_material?");
    expect(refusal("zzzzz")).not.toContain("Did you mean");
  });
});
