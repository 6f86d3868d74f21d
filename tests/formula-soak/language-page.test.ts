import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { functions, isReserved, refusedWords, wordOperators } from "../../src/formula/vocabulary.ts";
import { formulaOf } from "./sheet-vocabulary.ts";

const page = readFileSync(new URL("../../shared/docs/formulas.md", import.meta.url), "utf8");
const examples = [...page.matchAll(/```formula\n([^`]*)```/g)].flatMap(([, block = ""]) =>
  block.trim().split("\n"),
);

describe("the page about formulas", () => {
  it("has examples", () => expect(examples.length).toBeGreaterThanOrEqual(8));

  it.each(examples)("shows a formula that is taken: %s", (text) => {
    expect(formulaOf(text).reads.length).toBeGreaterThan(0);
  });

  it("explains every function", () => {
    for (const name of Object.keys(functions)) expect(page).toContain(`\`${name}(`);
  });

  it("names only words that are reserved", () => {
    for (const word of [...wordOperators, ...refusedWords, "in", "a", "years"])
      expect(isReserved(word)).toBe(true);
  });
});
