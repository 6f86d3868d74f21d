import type { Measure } from "../quantity/measure.ts";
import type { Basis } from "../reference/basis.ts";
import type { RuleBook } from "./rules.ts";

/** Reads a value of one lateral by column key: a number in the stored unit (NaN missing), or a text ("" missing). */
export type ReadValue = (key: string) => number | string;

/** A column that a formula reads, with what is needed to show its value. */
export interface ReadColumn {
  readonly key: string;
  readonly measure: Measure;
}

/** One formula of the recipe for one lateral. Missing is NaN. */
export interface ScoreFormula {
  readonly text: string;
  readonly reads: readonly ReadColumn[];
  readonly evaluate: (read: ReadValue) => number;
}

/** The program's own scores, compiled; null for the usual one. */
export interface ScoreRecipe {
  readonly likelihood: ScoreFormula | null;
  readonly consequence: ScoreFormula | null;
  readonly score: ScoreFormula | null;
  /** The same reader, which knows the program's own columns too. */
  readonly withOwnColumns: (read: ReadValue) => ReadValue;
}

/** Whether the risk is scored, wholly or in part, by the program's own formulas: such a formula may leave a lateral without a score. */
export const hasOwnScores = ({ likelihood, consequence, score }: ScoreRecipe): boolean =>
  likelihood !== null || consequence !== null || score !== null;

export const usualScores: ScoreRecipe = {
  likelihood: null,
  consequence: null,
  score: null,
  withOwnColumns: (read) => read,
};

/** A basis whose scores and rules are compiled: what a lateral is planned with. `recipe` holds their text. */
export interface ScoringBasis extends Basis {
  readonly scores: ScoreRecipe;
  readonly ruleBook: RuleBook;
}
