import { findInspectionColumn, sheetColumns } from "../../src/columns/dictionary.ts";
import { type Formula, readFormula } from "../../src/formula/formula.ts";
import { describeFormulaProblem } from "../../src/formula/formula-problem.ts";
import type { Lookup } from "../../src/formula/read-values.ts";
import type { Vocabulary } from "../../src/formula/vocabulary.ts";
import type { Measure } from "../../src/quantity/measure.ts";
import { day } from "../../src/quantity/si.ts";

const inspected = findInspectionColumn("inspected_on");
const ovality = findInspectionColumn("ovality");
if (inspected === undefined || ovality === undefined) throw new Error("the inspection columns have changed");

/** The sheet's columns with two of the inspection's, in a US program on 2026-03-01 (day 20 513). */
export const vocabulary: Vocabulary = {
  columns: [...sheetColumns, inspected, ovality],
  stage: "sheet",
  asOf: day(20_513),
  currency: "USD",
};

export function formulaOf(
  text: string,
  measure: Measure | null = null,
  words: Vocabulary = vocabulary,
): Formula {
  const read = readFormula(text, words, measure);
  if (!read.ok) throw new Error(describeFormulaProblem(text, read.problem));
  return read.formula;
}

/** A record from plain values; a column that is not given is missing. */
export const record =
  (values: Readonly<Record<string, number | string>>, words: Vocabulary = vocabulary): Lookup =>
  (key) => {
    const measure = words.columns.find((column) => column.key === key)?.measure;
    return values[key] ?? (measure === "code" || measure === "text" ? "" : Number.NaN);
  };

export const resultOf = (
  text: string,
  values: Readonly<Record<string, number | string>> = {},
  measure: Measure | null = null,
): number => formulaOf(text, measure).evaluate(record(values));

/** The problem in words; throws when the formula is taken. */
export function refusal(
  text: string,
  words: Vocabulary = vocabulary,
  measure: Measure | null = null,
): string {
  const read = readFormula(text, words, measure);
  if (read.ok) throw new Error(`taken: ${text}`);
  return describeFormulaProblem(text, read.problem);
}

/** The offset of the problem. */
export function refusedAt(text: string, words: Vocabulary = vocabulary): number {
  const read = readFormula(text, words, null);
  if (read.ok) throw new Error(`taken: ${text}`);
  return read.problem.at;
}
