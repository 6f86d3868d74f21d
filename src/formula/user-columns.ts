import { type Column, type Stage, stages } from "../columns/column.ts";
import type { Measure } from "../quantity/measure.ts";
import { type Formula, readFormula } from "./formula.ts";
import { FormulaFault, type FormulaProblem, quoted } from "./formula-problem.ts";
import { readTokens } from "./tokens.ts";
import { isReserved, type Vocabulary } from "./vocabulary.ts";

/** A column that a person defines. */
export interface UserColumnText {
  readonly key: string;
  readonly text: string;
  /** What it is to be kept and shown as; absent takes what the formula gives. */
  readonly measure?: Measure;
  /** What it is headed by; absent takes the key. */
  readonly heading?: string;
}

export interface UserColumn {
  readonly column: Column;
  readonly formula: Formula;
}

export interface UserColumnProblem {
  readonly key: string;
  readonly problem: FormulaProblem;
}

/**
 * The user's columns in an order in which each follows the columns it names, and what is wrong with the others.
 *
 * A user column counts as filled by the latest stage it reads from. So a scoring recipe may use one that reads the
 * city's files, and not one that reads the cost.
 *
 * @param vocabulary the columns of the dictionary, without the user's
 */
export function readUserColumns(
  definitions: readonly UserColumnText[],
  vocabulary: Vocabulary,
): { readonly columns: readonly UserColumn[]; readonly problems: readonly UserColumnProblem[] } {
  const columns: UserColumn[] = [];
  const problems: UserColumnProblem[] = [];
  const refuse = (key: string, problem: FormulaProblem) => problems.push({ key, problem });

  const byKey = new Map<string, UserColumnText>();
  for (const definition of definitions) {
    const problem = keyProblem(definition.key, vocabulary, byKey);
    if (problem === null) byKey.set(definition.key, definition);
    else refuse(definition.key, problem);
  }

  const done = new Set<string>();
  const path: string[] = [];
  const visit = (definition: UserColumnText): void => {
    if (done.has(definition.key)) return;
    path.push(definition.key);
    const problem = needsProblem(definition);
    path.pop();
    done.add(definition.key);
    if (problem !== null) return void refuse(definition.key, problem);
    const known = [...vocabulary.columns, ...columns.map(({ column }) => column)];
    const result = readFormula(
      definition.text,
      { ...vocabulary, stage: "sheet", columns: known },
      definition.measure ?? null,
    );
    if (result.ok)
      columns.push({ column: columnOf(definition, result.formula, known), formula: result.formula });
    else refuse(definition.key, result.problem);
  };

  /** Visits the user columns that this one names; a problem when one of them leads back here or could not be read. */
  const needsProblem = (definition: UserColumnText): FormulaProblem | null => {
    for (const { key, at } of namesIn(definition.text, vocabulary.currency)) {
      const needed = byKey.get(key);
      if (needed === undefined) continue;
      const start = path.indexOf(key);
      if (start !== -1) {
        const cycle = [...path.slice(start), key].join(" → ");
        return {
          at,
          found: key,
          expected: "columns that do not need this one",
          remedy: `They need each other: ${cycle}.`,
        };
      }
      visit(needed);
      if (!columns.some(({ column }) => column.key === key))
        return { at, found: key, expected: "a column without a problem", remedy: `Mend ${key} first.` };
    }
    return null;
  };

  for (const definition of byKey.values()) visit(definition);
  return { columns, problems };
}

function keyProblem(
  key: string,
  { columns, currency }: Vocabulary,
  taken: ReadonlyMap<string, unknown>,
): FormulaProblem | null {
  const refused = (expected: string, remedy: string): FormulaProblem => ({
    at: 0,
    found: `the column name ${quoted(key)}`,
    expected,
    remedy,
  });
  if (!/^[a-z][a-z0-9_]{0,39}$/.test(key))
    return refused("small letters, digits and _, starting with a letter, at most 40", "");
  if (isReserved(key) || key === currency.toLowerCase())
    return refused("a name that is not a unit or a word of the language", `Write my_${key}, for example.`);
  if (taken.has(key) || columns.some((column) => column.key === key))
    return refused("a name that no other column has", "");
  return null;
}

/** The names in a formula; none when it cannot be split into words, which reading it will say. */
function namesIn(text: string, currency: string): readonly { readonly key: string; readonly at: number }[] {
  try {
    const tokens = readTokens(text, currency);
    return tokens.filter(({ kind }) => kind === "name").map(({ text: key, at }) => ({ key, at }));
  } catch (error) {
    if (error instanceof FormulaFault) return [];
    throw error;
  }
}

function columnOf(
  { key, text, heading }: UserColumnText,
  formula: Formula,
  known: readonly Column[],
): Column {
  const stage = known
    .filter((column) => formula.reads.includes(column.key))
    .reduce<Stage>(
      (latest, column) => (stages.indexOf(column.stage) > stages.indexOf(latest) ? column.stage : latest),
      "given",
    );
  return {
    key,
    heading: heading ?? key,
    measure: formula.measure,
    stage,
    help: `Defined by the formula ${text}`,
    formula: text,
  };
}
