import type { Column } from "../columns/column.ts";
import { findInspectionColumn, sheetColumns } from "../columns/dictionary.ts";
import { type Formula, readFormula } from "../formula/formula.ts";
import { describeFormulaProblem, type FormulaProblem } from "../formula/formula-problem.ts";
import { readUserColumns, type UserColumn } from "../formula/user-columns.ts";
import { isEarlier, type Place, type Vocabulary } from "../formula/vocabulary.ts";
import type { ReadValue, ScoreFormula, ScoreRecipe } from "../plan/recipe.ts";
import { scoreKeys, surveyKeys } from "../plan/score-values.ts";
import type { JsonPath } from "../program/json-places.ts";
import type { Fault } from "../program/settings-faults.ts";
import type { Basis } from "../reference/basis.ts";
import { type Filter, finite, type OwnColumn } from "../season/own-columns.ts";

/** A recipe, compiled; or every fault of its formulas, by the character. */
export interface CompiledRecipe {
  readonly scores: ScoreRecipe;
  readonly ownColumns: readonly OwnColumn[];
  readonly filters: readonly Filter[];
  readonly faults: readonly Fault[];
}

/** Columns of the leading survey that the sheet has none of its own for. */
export const surveyColumns: readonly Column[] = surveyKeys.map((key) => {
  const column = findInspectionColumn(key);
  if (column === undefined) throw new RangeError(`surveyColumns: no inspection column ${key}`);
  return column;
});

/** What every formula of a program may name, before the program's own columns. */
export const sheetVocabulary = ({ program }: Basis): Vocabulary => ({
  columns: [...sheetColumns, ...surveyColumns],
  stage: "sheet",
  asOf: program.asOf,
  currency: program.currency,
});

export function compileRecipe(basis: Basis): CompiledRecipe {
  const { recipe } = basis;
  const faults: Fault[] = [];
  const sheet = sheetVocabulary(basis);

  const texts = Object.entries(recipe.columns).map(([key, text]) => {
    const heading = recipe.headings[key];
    return heading === undefined ? { key, text } : { key, text, heading };
  });
  const { columns, problems } = readUserColumns(texts, sheet);
  for (const { key, problem } of problems)
    faults.push(formulaFault(["recipe", "columns", key], recipe.columns[key] ?? "", problem));
  const own = columns.map(
    ({ column, formula }): OwnColumn => ({
      ...formula,
      column: { ...column, shownAtFirst: true },
    }),
  );

  const whole = { ...sheet, columns: [...sheet.columns, ...columns.map(({ column }) => column)] };
  const score = (what: "likelihood" | "consequence" | "score"): ScoreFormula | null => {
    const text = recipe[what];
    if (text === null) return null;
    const words = scoreVocabulary(what, sheet, columns);
    const read = readFormula(text, words, "points");
    if (read.ok) return scoreFormula(read.formula, words);
    faults.push(formulaFault(["recipe", what], text, tooLate(text, read.problem, whole, what)));
    return null;
  };
  const scores: ScoreRecipe = {
    likelihood: score("likelihood"),
    consequence: score("consequence"),
    score: score("score"),
    withOwnColumns: (read) => withOwnColumns(read, own),
  };

  const filters = Object.entries(recipe.filters).flatMap(([name, text]): Filter[] => {
    const read = readFormula(text, whole, "flag");
    if (read.ok) return [{ ...read.formula, name }];
    faults.push(formulaFault(["recipe", "filters", name], text, read.problem));
    return [];
  });
  return { scores, ownColumns: own, filters, faults };
}

/**
 * A reader that knows the program's own columns: each is worked out when it is first asked for, and once. Columns that each
 * name two before them would otherwise be worked out 2ⁿ times.
 */
export function withOwnColumns(read: ReadValue, own: readonly OwnColumn[]): ReadValue {
  if (own.length === 0) return read;
  const byKey = new Map(own.map((each) => [each.column.key, each]));
  const workedOut = new Map<string, number>();
  const all: ReadValue = (key) => {
    const mine = byKey.get(key);
    if (mine === undefined) return read(key);
    const known = workedOut.get(key);
    if (known !== undefined) return known;
    const value = finite(mine.evaluate(all));
    workedOut.set(key, value);
    return value;
  };
  return all;
}

/**
 * What a score may name. Likelihood and consequence come before the risk; the score comes after them and may name
 * both, but not the risk, which it is. Columns of later stages stay in the list, so that the refusal can say why.
 */
function scoreVocabulary(
  what: "likelihood" | "consequence" | "score",
  sheet: Vocabulary,
  own: readonly UserColumn[],
): Vocabulary {
  const stage: Place = what === "score" ? "treatment" : "risk";
  const known = new Set([...scoreKeys, ...(what === "score" ? ["likelihood", "consequence"] : [])]);
  for (const { column, formula } of own)
    if (formula.reads.every((key) => known.has(key))) known.add(column.key);
  const all = [...sheet.columns, ...own.map(({ column }) => column)];
  return {
    ...sheet,
    stage,
    columns: all.filter((column) => known.has(column.key) || !isEarlier(column, stage)),
  };
}

/** A name that is unknown only here, such as the risk in the formula of the score, is not called unknown. */
function tooLate(text: string, problem: FormulaProblem, whole: Vocabulary, what: string): FormulaProblem {
  const name = /^\w+/.exec(text.slice(problem.at))?.[0];
  const column = whole.columns.find(({ key }) => key === name);
  if (column === undefined || !problem.found.startsWith("the unknown name")) return problem;
  const remedy =
    column.key === "risk" ? "The score is the risk: write likelihood * consequence, for example." : "";
  return { ...problem, found: column.key, expected: `a column known before the ${what}`, remedy };
}

const scoreFormula = ({ text, reads, evaluate }: Formula, { columns }: Vocabulary): ScoreFormula => ({
  text,
  evaluate,
  reads: columns.filter(({ key }) => reads.includes(key)).map(({ key, measure }) => ({ key, measure })),
});

/** The fault as a problem of program.json, with the formula's line and a caret under the character. */
export function formulaFault(path: JsonPath, text: string, problem: FormulaProblem): Fault {
  const [line = "", caret = ""] = describeFormulaProblem(text, problem).split("\n");
  return {
    path,
    found: text,
    expected: `${problem.expected} at character ${problem.at + 1}, where ${problem.found} stands`,
    remedy: `${problem.remedy || "Correct the formula."}\n    ${line}\n    ${caret}`,
  };
}
