import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readFormula } from "../../src/formula/formula.ts";
import { DEEPEST, LONGEST, MOST_TOKENS } from "../../src/formula/tokens.ts";
import { formulaOf, record, refusal, refusedAt, resultOf, vocabulary } from "./sheet-vocabulary.ts";

describe("what is outside the language", () => {
  it.each([
    ["import({a:1})", 7],
    ['evaluate("1")', 0],
    ['cos.constructor("return process")()', 3],
    ["risk.constructor", 4],
    ['risk["constructor"]', 4],
    ["constructor", 0],
    ["__proto__", 0],
    ["toString()", 0],
    ["hasOwnProperty(risk)", 0],
    ["min.constructor", 0],
    ["min", 0],
    ["x = 1", 2],
    ["f(x) = x", 5],
    ["[1, 2]", 0],
    ["{a: 1}", 0],
    ["1 : 3", 2],
    ["risk[1]", 4],
    ["x -> 1", 3],
    ["risk; risk", 4],
    ["sin(1)", 0],
    ["5!", 1],
    ["risk'", 4],
    ["risk % 2", 5],
    ["10%", 2],
    ["risk mod 2", 5],
    ["risk to 2", 5],
    ["host_length in mm", 12],
    ["host_length to mm", 12],
    ["cleanout xor reinspect", 9],
    ["risk & 1", 5],
    ["risk | 1", 5],
    ["~risk", 0],
    ["risk << 2", 6],
    ["risk ?? 1", 6],
    ["risk?.x", 5],
    ["risk .* 2", 5],
    ["NaN", 0],
    ["Infinity", 0],
    ["null", 0],
    ["undefined", 0],
    ["i", 0],
    ["pi", 0],
    ["1e999", 0],
    ["0x1F", 1],
    ["3./risk", 1],
    ["1.5.5", 3],
    ["6 ft(2)", 4],
    ["6 ft()^2", 4],
    ["and", 0],
    ["and(true, true)", 0],
    ["Länge > 5", 0],
    ["risk + Größe_2", 7],
    ["risk + or", 7],
    ["risk # note", 5],
    ["`risk`", 0],
    ["risk \\ 2", 5],
    ["\u0024{risk}", 0],
    ["ｒisk", 0],
    ["+3", 0],
    ["2 risk", 2],
    ["2 (3)", 2],
    ["(2)(3)", 3],
    ["risk (3)", 0],
    ["(1 + 2) ft", 8],
    ["host_length / ft", 14],
    ["2 ft 6 in", 5],
    ['6"', 1],
    ["8'", 1],
    ["host_length > 3 m ^ risk", 20],
    ["2 ^ 3 ft", 6],
    ["5 degC", 2],
    ["known()", 0],
    ["min()", 0],
    ["pow(2)", 0],
    ["log(8, 2)", 0],
    ["round(risk, 2)", 0],
    ["if_missing(risk)", 0],
    ["abs(1, 2)", 0],
    ["", 0],
    ["   ", 0],
    ["1 +", 3],
    ["(1", 2],
    ["1)", 1],
    ["* 2", 0],
    ["1 ? 2", 5],
    ["true ? : 2", 7],
    ["min(1, )", 7],
    ["1, 2", 1],
    ['surface == "street', 11],
    ["risk == == 2", 8],
    ["risk === 2", 5],
    ["risk && 2", 5],
    ["risk ** 2", 5],
  ])("%s is refused at offset %i", (text, at) => {
    expect(refusedAt(text)).toBe(at);
  });

  it("says what to write for a chain of comparisons", () => {
    expect(refusal("1 < risk < 3")).toContain("Write 1 < risk and risk < 3.");
    expect(refusedAt("1 < risk < 3")).toBe(9);
    expect(refusal("6 in <= host_diameter < (8 in) <= 1 ft")).toContain(
      "Write 6 in <= host_diameter and host_diameter < (8 in) and (8 in) <= 1 ft.",
    );
  });

  it("says what a habit from elsewhere is called here", () => {
    expect(refusal("cleanout && reinspect")).toContain("Write and for &&.");
    expect(refusal("risk <> 2")).toContain("Write != for <>.");
    expect(refusal("risk × 2")).toContain("Write * for ×.");
    expect(refusal("risk = 2")).toContain("Write == to compare");
    expect(refusal("ovality > 5%")).toContain("Write 5 percent.");
    expect(refusal('host_diameter > 6"')).toContain("Write 6 in.");
    expect(refusal("2 risk")).toContain("write 2 * risk");
    expect(refusal("risk (3)")).toContain("write risk * (…)");
  });

  it("puts the caret under the character, on its own line, whatever precedes it", () => {
    expect(refusal("host_length\n\t+ 3").split("\n").slice(0, 2)).toEqual(["\t+ 3", "\t  ^"]);
    expect(refusal("host_length\n\t+ 3")).toContain("Line 2, character 4:");
  });

  it("takes a formula over several lines", () => {
    expect(resultOf("risk\n  + 1\n  + 2", { risk: 1 })).toBe(4);
  });

  it("keeps what the user wrote out of the compiled source", () => {
    const text = "\u2028*/};process.exit(1);//`\u0024{1}`\\";
    const formula = formulaOf(`district == '${text}'`);
    expect(formula.evaluate(record({ district: text }))).toBe(1);
    expect(formula.evaluate(record({ district: "North" }))).toBe(0);
  });
});

describe("any text at all", () => {
  const soup = fc.array(
    fc.constantFrom(
      ..."+ - * / ^ ( ) , ? : == != < <= > >= and or not to in mod xor . ; = ! % [ ] { } & | ~ ' \" # @".split(
        " ",
      ),
      ..."risk host_length cleanout surface as_of constructor __proto__ NaN null e min max abs known pow".split(
        " ",
      ),
      ..."1 2.5 .5 1e3 0x1 ft mm years usd percent degC 'yard' \"street\" true false".split(" "),
      " ",
      "\n",
      "\u00a0",
      "é",
      "🦆",
    ),
    { maxLength: 14 },
  );
  it("gives a formula or a problem inside the text, and never throws", () => {
    let taken = 0;
    fc.assert(
      fc.property(
        fc.oneof(
          soup.map((parts) => parts.join(" ")),
          soup.map((parts) => parts.join("")),
          fc.string(),
        ),
        (text) => {
          const read = readFormula(text, vocabulary, null);
          if (read.ok) taken += 1;
          else expect(read.problem.at).toBeGreaterThanOrEqual(0);
          if (!read.ok) expect(read.problem.at).toBeLessThanOrEqual(text.length);
        },
      ),
      { numRuns: 20_000 },
    );
    expect(taken).toBeGreaterThan(50);
  });
});

describe("limits", () => {
  const problemOf = (text: string) => {
    const read = readFormula(text, vocabulary, null);
    return read.ok ? null : read.problem;
  };

  it("refuses what is too long, too deep or too much", () => {
    expect(problemOf(" ".repeat(LONGEST + 1))?.expected).toBe(`at most ${LONGEST}`);
    expect(problemOf(`${"(".repeat(DEEPEST + 1)}1${")".repeat(DEEPEST + 1)}`)?.at).toBe(DEEPEST);
    expect(problemOf("(".repeat(5000))?.at).toBe(DEEPEST);
    expect(problemOf(`1${"+1".repeat(MOST_TOKENS / 2)}`)?.expected).toContain(String(MOST_TOKENS));
  });

  // The widest formulas of each shape that still fit. A stage would stop at a RangeError from the stack here.
  const half = MOST_TOKENS / 2 - 1;
  it.each([
    ["a sum", `risk${"+risk".repeat(half)}`, 2 * (half + 1)],
    [
      "a difference of different terms",
      `1${Array.from({ length: half }, (_, i) => `-${i}`).join("")}`,
      1 - (half * (half - 1)) / 2,
    ],
    ["parentheses", `${"(".repeat(DEEPEST)}risk${")".repeat(DEEPEST)}`, 2],
    ["minus signs", `${"-".repeat(MOST_TOKENS - 2)}risk`, 2],
    ["a tower of powers", `risk${"^1".repeat(half)}`, 2],
    ["not after not", `${"not ".repeat(MOST_TOKENS - 2)}true`, 1],
    ["and after and", `true${" and true".repeat(half)}`, 1],
    ["choice in choice", `${"risk > 3 ? 1 : ".repeat(MOST_TOKENS / 6 - 1)}7`, 7],
    ["choice in the first arm", `${"(risk < 3 ? ".repeat(DEEPEST)}7${" : 1)".repeat(DEEPEST)}`, 7],
    ["functions in functions", `${"abs(".repeat(DEEPEST)}risk${")".repeat(DEEPEST)}`, 2],
    ["a long list", `max(${"risk,".repeat(half - 1)}9)`, 9],
  ])("reads and computes %s at the limit", (_, text, expected) => {
    const formula = formulaOf(text);
    expect(formula.evaluate(record({ risk: 2 }))).toBe(expected);
    const out = new Float64Array(2);
    const columns = new Map([["risk", { kind: "number", values: Float64Array.of(9, 2) } as const]]);
    formula.fill(columns, out, 1, 2);
    expect([...out]).toEqual([0, expected]);
  });
});

describe("broken promises", () => {
  it("throw with the column's name when a record or table lacks what the formula reads", () => {
    const formula = formulaOf('risk > 3 and surface == "yard"');
    expect(() => formula.evaluate(() => "text")).toThrow('risk is "text", not a number');
    expect(() => formula.evaluate(() => 4)).toThrow("surface is 4, not a text");
    expect(() => formula.fill(new Map(), new Float64Array(1), 0, 1)).toThrow("called risk");
    expect(() => formula.fill(new Map(), new Float64Array(1), 0, 2)).toThrow("rows 0 to 2 of 1");
  });
});
