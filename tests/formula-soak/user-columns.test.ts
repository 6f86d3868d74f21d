import { describe, expect, it } from "vitest";
import { describeFormulaProblem } from "../../src/formula/formula-problem.ts";
import { readUserColumns } from "../../src/formula/user-columns.ts";
import { formulaOf, record, refusal, vocabulary } from "./sheet-vocabulary.ts";

const read = (texts: Readonly<Record<string, string>>) =>
  readUserColumns(
    Object.entries(texts).map(([key, text]) => ({ key, text })),
    vocabulary,
  );
const problemsOf = (texts: Readonly<Record<string, string>>) =>
  read(texts).problems.map(
    ({ key, problem }) => `${key}: ${describeFormulaProblem(texts[key] ?? "", problem)}`,
  );

describe("a user's columns", () => {
  it("come in an order in which each follows those it names, with measure and stage found", () => {
    const { columns, problems } = read({
      urgency: "slope_drop > 2 ft and risk > 12",
      slope_drop: "host_length * fall",
      fall: "2 percent",
      price_per_foot: "cost / (host_length / (1 ft))",
    });
    expect(problems).toEqual([]);
    expect(columns.map(({ column }) => [column.key, column.measure, column.stage])).toEqual([
      ["fall", "factor", "given"],
      ["slope_drop", "length", "given"],
      ["urgency", "flag", "risk"],
      ["price_per_foot", "money", "cost"],
    ]);
    const later = { ...vocabulary, columns: [...vocabulary.columns, ...columns.map(({ column }) => column)] };
    const formula = formulaOf("slope_drop > 1 ft", "flag", later);
    expect(formula.reads).toEqual(["slope_drop"]);
    expect(formula.evaluate(record({ slope_drop: 0.4 }, later))).toBe(1);
    expect(refusal("price_per_foot", { ...later, stage: "risk" })).toContain('filled by the stage "cost"');
  });

  it("are kept as the measure asked for", () => {
    const { columns } = readUserColumns(
      [{ key: "run", text: "host_length / 2", measure: "diameter" }],
      vocabulary,
    );
    expect(columns[0]?.formula.evaluate(record({ host_length: 3 }))).toBe(1500);
  });

  it("that need each other are refused with the cycle named", () => {
    expect(problemsOf({ first: "middle + 1", middle: "2 * third", third: "first" })).toEqual([
      "third: first\n^\nCharacter 1: found first; expected columns that do not need this one. They need each other: first → middle → third → first.",
      "middle: 2 * third\n    ^\nCharacter 5: found third; expected a column without a problem. Mend third first.",
      "first: middle + 1\n^\nCharacter 1: found middle; expected a column without a problem. Mend middle first.",
    ]);
    expect(problemsOf({ alone: "1 + alone" })[0]).toContain("They need each other: alone → alone.");
  });

  it("in a long chain are all read", () => {
    const texts = Object.fromEntries(
      Array.from({ length: 300 }, (_, i) => [`step_${i}`, i === 299 ? "1" : `step_${i + 1} + 1`]),
    );
    expect(read(texts).columns).toHaveLength(300);
  });

  it("do not stop one another: the good ones are read beside the bad", () => {
    const { columns, problems } = read({ bad: "host_length + 3", good: "host_length + 3 m" });
    expect(columns.map(({ column }) => column.key)).toEqual(["good"]);
    expect(problems.map(({ key }) => key)).toEqual(["bad"]);
  });

  it.each([
    ["in", "not a unit"],
    ["years", "not a unit"],
    ["a", "not a unit"],
    ["usd", "not a unit"],
    ["min", "not a unit or a word of the language"],
    ["as_of", "a word of the language"],
    ["to", "a word of the language"],
    ["risk", "a name that no other column has"],
    ["My column", "small letters"],
    ["__proto__", "small letters"],
    ["9lives", "small letters"],
    ["", "small letters"],
  ])("may not be called %j", (key, words) => {
    const { columns, problems } = readUserColumns([{ key, text: "1" }], vocabulary);
    expect(columns).toEqual([]);
    expect(problems[0]?.problem.expected).toContain(words);
  });

  it("may not be called like the program's currency or like one another", () => {
    const canadian = { ...vocabulary, currency: "CAD" };
    expect(readUserColumns([{ key: "cad", text: "1" }], canadian).problems).toHaveLength(1);
    const twice = [
      { key: "fall", text: "1" },
      { key: "fall", text: "2" },
    ];
    expect(readUserColumns(twice, vocabulary).problems[0]?.problem.expected).toBe(
      "a name that no other column has",
    );
  });
});
