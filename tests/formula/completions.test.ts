import { expect, it } from "vitest";
import { surfaces } from "../../src/columns/lateral-columns.ts";
import { completions } from "../../src/formula/completions.ts";
import { functions } from "../../src/formula/vocabulary.ts";
import { formulaOf, vocabulary } from "./sheet-vocabulary.ts";

const names = (before: string) => completions(before, vocabulary).map(({ name }) => name);

it("offers columns, functions and words that start so, with what they are", () => {
  expect(completions("1 m + host", vocabulary)).toEqual([
    { name: "host_diameter", shows: "a length" },
    { name: "host_length", shows: "a length" },
    { name: "host_material", shows: "text" },
  ]);
  expect(names("kno")).toEqual(["known"]);
  expect(names("as")).toEqual(["as_of"]);
  expect(names("host_length > 3 ft an")).toEqual(["and"]);
});

it("offers only columns of earlier stages", () => {
  const atRisk = completions("", { ...vocabulary, stage: "risk" }).map(({ name }) => name);
  expect(atRisk).toContain("structural_grade");
  expect(atRisk).not.toContain("risk");
  expect(atRisk).not.toContain("cost");
});

it("offers units after a number and words of the column in quotes", () => {
  expect(names("host_diameter > 6 i")).toEqual(["in"]);
  expect(names("cost > 500 u")).toEqual(["usd"]);
  expect(names("5 y")).toEqual(["yd", "years"]);
  expect(names("host_length > 3 o")).toEqual(["or"]);
  expect(names('surface == "')).toEqual(surfaces.map((word) => `${word}"`));
  expect(names("surface != 'ya")).toEqual(["yard'"]);
  expect(names("x1")).toEqual([]);
});

it("offers nothing behind a value that is finished, and nothing but the joining words once one is begun", () => {
  for (const finished of [
    "12",
    "12 ",
    "risk * 1.5",
    "host_length ",
    "3 ft ",
    "max(risk, 2)",
    "known(district) ",
  ])
    expect(names(finished)).toEqual([]);
  for (const finished of ["host_length > 3 ft ", "(risk > 2) ", "cleanout "])
    expect([names(`${finished}a`), names(`${finished}o`)]).toEqual([["and"], ["or"]]);
  expect(names("cleanout and ")).toContain("risk");
  expect(names("not ")).toContain("cleanout");
});

it("offers first what is written already, so that a finished unit or name stays what it is", () => {
  expect(names("5 m")[0]).toBe("m");
  expect(names("5 mm")).toEqual(["mm"]);
  for (const { key } of vocabulary.columns) expect(names(key)[0]).toBe(key);
});

it("offers no unit that a formula does not take, and no function without its explanation", () => {
  const units = [..."abcdefghijklmnopqrstuvwxyz"].flatMap((letter) => names(`1 ${letter}`));
  expect(units).toContain("percent");
  for (const name of units.filter((each) => !["and", "or"].includes(each)))
    expect(formulaOf(`1 ${name} / (1 ${name})`).measure).toBe("factor");
  for (const [name, { shows }] of Object.entries(functions)) expect(shows.startsWith(`${name}(`)).toBe(true);
});
