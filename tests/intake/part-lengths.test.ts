import { expect, it } from "vitest";
import { ProblemList } from "../../src/intake/cell-problem.ts";
import { checkParts } from "../../src/intake/part-lengths.ts";
import { tableOf } from "../season/examples.ts";

/** Problems of one lateral of 12.00 m. */
function problemsOf(lower: number, upper: number, signed = 20_000, expires = 20_100) {
  const problems = new ProblemList("laterals.csv");
  const keys = [
    "host_length",
    "lower_length",
    "upper_length",
    "permission_signed",
    "permission_expires",
    "file_row",
  ];
  const columns = keys.map(
    (key) => ({ key, heading: key, measure: "count", stage: "given", help: "" }) as const,
  );
  const row = {
    host_length: 12,
    lower_length: lower,
    upper_length: upper,
    permission_signed: signed,
    permission_expires: expires,
    file_row: 7,
  };
  checkParts(tableOf(columns, [row]), problems);
  return problems.finish();
}

it("parts that do not add up to the lateral are said, with their row; 1 % and 0.05 m are rounding", () => {
  expect(problemsOf(5, 7)).toEqual([]);
  // 1 % of 12 m and 0.05 m are 0.17 m.
  expect(problemsOf(5, 7.16)).toEqual([]);
  expect(problemsOf(5, 7.18)).toMatchObject([
    { severity: "noted", row: 7, found: "lower 5.00 m + upper 7.18 m = 12.18 m" },
  ]);
  expect(problemsOf(Number.NaN, 3)).toEqual([]);
});

it("a permission that ends before it was signed is said", () => {
  expect(problemsOf(5, 7, 20_100, 20_000)).toMatchObject([{ severity: "noted", row: 7 }]);
});
