import { completions } from "../formula/completions.ts";
import { type Formula, readFormula } from "../formula/formula.ts";
import type { FormulaProblem } from "../formula/formula-problem.ts";
import { describeType } from "../formula/formula-type.ts";
import { readUserColumns } from "../formula/user-columns.ts";
import type { Vocabulary } from "../formula/vocabulary.ts";
import { isQuantity } from "../quantity/measure.ts";
import { unitLabel } from "../quantity/show-quantity.ts";
import type { FormulaHelp } from "../screen/sheet-view.ts";
import { fillOwnColumns, type OwnColumn } from "../season/own-columns.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { sheetVocabulary } from "./compile-recipe.ts";

/** The formula language over a program's sheet, for filters and columns as somebody types them. */
export function formulaHelp({ basis, laterals }: PlannedProgram): FormulaHelp {
  const vocabulary = sheetWords(basis);
  // A filter of a big sheet is asked for piece by piece.
  let last: { text: string; formula: Formula; answers: Float64Array } | null = null;
  return {
    check: (text, use) => {
      const read = readFormula(text, vocabulary, use === "filter" ? "flag" : null);
      if (!read.ok) return { ok: false, at: read.problem.at, words: inWords(read.problem) };
      const { type, measure } = read.formula;
      const unit = isQuantity(measure) ? `, shown in ${unitLabel(measure, basis.program)}` : "";
      return { ok: true, gives: describeType(type) + unit };
    },
    complete: (before) => completions(before, vocabulary),
    keeps: (text, from, to) => {
      if (last?.text !== text)
        last = { text, formula: verified(text, vocabulary), answers: new Float64Array(laterals.rows) };
      return rowsMeeting(last.formula, laterals, last.answers, from, to);
    },
    nameProblem: (name) => {
      // Any formula will do: what is asked is whether the name can be taken.
      const { problems } = readUserColumns([{ key: name, text: "1" }], vocabulary);
      const [found] = problems;
      return found === undefined ? null : inWords(found.problem);
    },
  };
}

const inWords = ({ found, expected, remedy }: FormulaProblem): string =>
  `found ${found}; expected ${expected}. ${remedy}`.trimEnd();

/** What a formula over the sheet may name: the dictionary and the program's own columns. */
function sheetWords(basis: PlannedProgram["basis"]): Vocabulary {
  const sheet = sheetVocabulary(basis);
  return { ...sheet, columns: [...sheet.columns, ...basis.ownColumns.map(({ column }) => column)] };
}

function verified(text: string, vocabulary: Vocabulary): Formula {
  const read = readFormula(text, vocabulary, "flag");
  if (!read.ok) throw new RangeError(`rowsMeeting: ${JSON.stringify(text)}: ${inWords(read.problem)}`);
  return read.formula;
}

function rowsMeeting(
  { fill }: Formula,
  { columns }: PlannedProgram["laterals"],
  answers: Float64Array,
  from: number,
  to: number,
): Uint32Array {
  fill(columns, answers, from, to);
  const rows = new Uint32Array(to - from);
  let count = 0;
  for (let row = from; row < to; row++) if (answers[row] === 1) rows[count++] = row;
  return rows.slice(0, count);
}

/** The program with one more column of its own, for as long as the sheet is open. @throws RangeError when it was not checked */
export function withOwnColumn(program: PlannedProgram, key: string, text: string): PlannedProgram {
  const { basis } = program;
  const { columns, problems } = readUserColumns([{ key, text }], sheetWords(basis));
  const [made] = columns;
  if (made === undefined)
    throw new RangeError(
      `withOwnColumn: ${key}: ${problems.map(({ problem }) => inWords(problem)).join(" ")}`,
    );
  const own: OwnColumn = { ...made.formula, column: { ...made.column, shownAtFirst: true } };
  return {
    ...program,
    basis: {
      ...basis,
      recipe: { ...basis.recipe, columns: { ...basis.recipe.columns, [key]: text } },
      ownColumns: [...basis.ownColumns, own],
    },
    laterals: fillOwnColumns(program.laterals, [own]),
    columns: [...program.columns, own.column],
  };
}
