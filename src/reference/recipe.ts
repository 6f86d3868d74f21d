/**
 * A program's own scores, columns and filters, as text of the language of shared/docs/formulas.md: what the basis can
 * carry to another thread. Null stands for the tables of `criteria.risk`, and for likelihood × consequence.
 */
export interface RecipeText {
  readonly likelihood: string | null;
  readonly consequence: string | null;
  readonly score: string | null;
  /** Formula by key of the column, in the order of program.json. */
  readonly columns: Readonly<Record<string, string>>;
  /** Heading by key of the column; a column without one is headed by its key. */
  readonly headings: Readonly<Record<string, string>>;
  /** Condition by name of the filter. */
  readonly filters: Readonly<Record<string, string>>;
}

/** Own columns, and filters, that a program may have: each is as many numbers as there are laterals. */
export const MOST_OWN = 200;

export const noRecipe: RecipeText = {
  likelihood: null,
  consequence: null,
  score: null,
  columns: {},
  headings: {},
  filters: {},
};

/** Whether nothing has to be read or compiled. */
export const isEmptyRecipe = ({ likelihood, consequence, score, columns, filters }: RecipeText): boolean =>
  likelihood === null &&
  consequence === null &&
  score === null &&
  Object.keys(columns).length === 0 &&
  Object.keys(filters).length === 0;
