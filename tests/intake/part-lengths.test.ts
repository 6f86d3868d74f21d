import { expect, it } from "vitest";
import { checkParts } from "../../src/intake/part-lengths.ts";
import { isOfValues } from "../../src/intake/value-problems.ts";
import type { UnitSystem } from "../../src/quantity/measure.ts";
import { tableOf } from "../season/examples.ts";

/** Problems of lateral A1 of 12.00 m, some of whose values are decided. */
function problemsOf(
  lower: number,
  upper: number,
  signed = 20_000,
  expires = 20_100,
  decided: string[] = [],
  units: UnitSystem = "si",
) {
  const keys = [
    "host_length",
    "lower_length",
    "upper_length",
    "permission_signed",
    "permission_expires",
    "file_row",
  ];
  const column = (key: string, measure: "count" | "text") =>
    ({ key, heading: key, measure, stage: "given", help: "" }) as const;
  const row = {
    lateral: "A1",
    host_length: 12,
    lower_length: lower,
    upper_length: upper,
    permission_signed: signed,
    permission_expires: expires,
    file_row: 7,
  };
  const decision = { value: 0, reason: "" };
  return checkParts(
    tableOf([column("lateral", "text"), ...keys.map((key) => column(key, "count"))], [row]),
    new Map([["A1", new Map(decided.map((key) => [key, decision]))]]),
    { laterals: "laterals.csv", log: "decisions.csv" },
    { units, currency: "USD" },
  );
}

it("parts that do not add up to the lateral are said, with their row; 1 % and 0.05 m are rounding", () => {
  expect(problemsOf(5, 7)).toEqual([]);
  // 1 % of 12 m and 0.05 m are 0.17 m.
  expect(problemsOf(5, 7.169)).toEqual([]);
  expect(problemsOf(5, 6.831)).toEqual([]);
  for (const upper of [7.171, 6.829]) expect(problemsOf(5, upper)).toHaveLength(1);
  expect(problemsOf(5, 7.18)).toMatchObject([
    { severity: "noted", row: 7, found: "lower 5.00 m + upper 7.18 m = 12.18 m" },
  ]);
  expect(problemsOf(Number.NaN, 3)).toEqual([]);
});

it("lengths are written in the program's units", () => {
  // 3.048 m are 10 ft, 12.192 m are 40 ft, 12 m are 39.37 ft.
  expect(problemsOf(3.048, 12.192, 20_000, 20_100, [], "us")).toMatchObject([
    {
      found: "lower 10.0 ft + upper 40.0 ft = 50.0 ft",
      expected: "the length of the lateral, 39.4 ft",
    },
  ]);
});

it("a permission that ends before it was signed is said", () => {
  expect(problemsOf(5, 7, 20_100, 20_000)).toMatchObject([{ severity: "noted", row: 7 }]);
});

it("what is decided is said of the log and its lateral, not of a row whose cells are others", () => {
  const found = problemsOf(5, 9, 20_100, 20_000, ["upper_length"]);
  expect(found).toMatchObject([
    { file: "laterals.csv", row: 7, lateral: "A1", found: "a permission that ends before it was signed" },
    { file: "decisions.csv", row: null, lateral: "A1", found: "lower 5.00 m + upper 9.00 m = 14.00 m" },
  ]);
  expect(found.every(isOfValues)).toBe(true);
});
