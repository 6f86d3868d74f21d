import { type Formula, readFormula } from "../formula/formula.ts";
import { describeFormulaProblem } from "../formula/formula-problem.ts";
import { describeType, typeOfMeasure } from "../formula/formula-type.ts";
import { functions, type Vocabulary } from "../formula/vocabulary.ts";
import type { Measure } from "../quantity/measure.ts";
import { showCount, showNumber, unitLabel } from "../quantity/show-quantity.ts";
import type { OwnColumn, PreparedBasis } from "../season/own-columns.ts";
import { type PlannedProgram, planProgram } from "../season/planned-program.ts";
import { readSheet } from "../season/read-planned.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { sheetVocabulary, surveyColumns } from "./compile-recipe.ts";
import { exitCodeOf, gatherProgram, sayProblems } from "./load-program.ts";
import { left, plainTable, right } from "./plain-table.ts";

/** Laterals shown beside a formula that was typed: the first by rank. */
const ROWS_SHOWN = 10;

/** `wyeplan formulas FOLDER [FORMULA]`: what a formula may name, or what one comes to. */
export async function formulasOf(folder: string, text: string | undefined, io: CommandIo): Promise<ExitCode> {
  return text === undefined ? listNames(folder, io) : tryFormula(folder, text, io);
}

async function listNames(folder: string, io: CommandIo): Promise<ExitCode> {
  const gathered = await gatherProgram(folder);
  if (!gathered.ok) {
    sayProblems(gathered.problems, io);
    return EXIT.notDone;
  }
  io.out(`${namesText(gathered.basis)}\n`);
  return exitCodeOf(gathered);
}

function namesText(basis: PreparedBasis): string {
  const { columns } = wholeVocabulary(basis);
  const { ownColumns, filters, recipe } = basis;
  const formulaOf = (key: string) => ownColumns.find(({ column }) => column.key === key)?.text;
  const table = plainTable(
    [left("Column"), left("Gives"), left("Shown in"), left("Filled by")],
    columns.map(({ key, measure, stage }) => [
      key,
      describeType(typeOfMeasure(measure)),
      unitLabel(measure, basis.program),
      formulaOf(key) ?? stage,
    ]),
  );
  const scores = (["likelihood", "consequence", "score"] as const).map(
    (key) => `  ${key.padEnd(12)} ${recipe[key] ?? usualScore[key]}`,
  );
  return [
    table,
    ["Functions", ...Object.values(functions).map(({ shows }) => `  ${shows}`)].join("\n"),
    ["Scores", ...scores].join("\n"),
    ...(filters.length === 0
      ? []
      : [["Filters", ...filters.map(({ name, text }) => `  ${name}: ${text}`)].join("\n")]),
    "as_of is the program's day. The language: shared/docs/formulas.md.",
  ].join("\n\n");
}

const usualScore = {
  likelihood: "(the tables of criteria.risk)",
  consequence: "(the tables of criteria.risk)",
  score: "likelihood * consequence",
} as const;

async function tryFormula(folder: string, text: string, io: CommandIo): Promise<ExitCode> {
  const gathered = await gatherProgram(folder);
  if (!gathered.ok) {
    sayProblems(gathered.problems, io);
    return EXIT.notDone;
  }
  const { basis, tables } = gathered;
  const read = readFormula(text, wholeVocabulary(basis), null);
  if (!read.ok) {
    io.err(`${describeFormulaProblem(text, read.problem)}\n`);
    return EXIT.notDone;
  }
  const { formula } = read;
  // Planned as one more column, whose key no column of a program can have.
  const typed: OwnColumn = {
    ...formula,
    column: { key: TYPED, heading: "Value", measure: formula.measure, stage: "season", help: text },
  };
  const program = planProgram(tables, { ...basis, ownColumns: [...basis.ownColumns, typed] }, gathered);
  io.out(`${valuesText(formula, program)}\n`);
  return exitCodeOf(program);
}

const TYPED = "the typed formula";

function valuesText({ text, type, measure, reads }: Formula, program: PlannedProgram): string {
  const { laterals, order, columns } = program;
  const named = [...columns, ...surveyColumns].filter(({ key }) => reads.includes(key));
  const shown = [...named, ...columns.filter(({ key }) => key === TYPED)];
  const cell = (key: string, of: Measure, row: number) => {
    const value = readSheet(laterals, row)(key);
    return typeof value === "string" ? value : showNumber(value, of, program.basis.program);
  };
  const table = plainTable(
    [
      left("Lateral"),
      ...shown.map(({ key, heading, measure: of }) => {
        const unit = unitLabel(of, program.basis.program);
        const name = key === TYPED ? heading : key;
        return right(unit === "" ? name : `${name} (${unit})`);
      }),
    ],
    Array.from(order.subarray(0, ROWS_SHOWN), (row) => [
      textAt(laterals, "lateral", row),
      ...shown.map(({ key, measure: of }) => cell(key, of, row) || "missing"),
    ]),
  );
  let missing = 0;
  let met = 0;
  for (const row of order) {
    const value = numberAt(laterals, TYPED, row);
    if (Number.isNaN(value)) missing++;
    else if (value === 1) met++;
  }
  const counts =
    measure === "flag"
      ? `${showCount(met)} yes, ${showCount(missing)} unknown`
      : `${showCount(missing)} missing`;
  return [
    text,
    `gives ${describeType(type)}; of ${showCount(laterals.rows)} laterals ${counts}`,
    "",
    table,
  ].join("\n");
}

/** With the program's own columns. */
function wholeVocabulary(basis: PreparedBasis): Vocabulary {
  const sheet = sheetVocabulary(basis);
  return { ...sheet, columns: [...sheet.columns, ...basis.ownColumns.map(({ column }) => column)] };
}
