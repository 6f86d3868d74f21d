import { hasOwnScores } from "../plan/recipe.ts";
import { firstOf } from "../quantity/first-of.ts";
import { describeInRows, type Problem, quoted } from "../quantity/problem.ts";
import { repeatedProblems } from "../quantity/repeated-problems.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { fitProgram } from "../season/fits.ts";
import { planSheet } from "../season/plan-sheet.ts";
import { rankSheet } from "../season/planned-program.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { exitCodeOf, type GatheredProgram, gatherProgram, sayProblems } from "./load-program.ts";
import { type ProblemKind, problemKinds } from "./problem-kinds.ts";
import { fitted } from "./wrapped.ts";

/** `wyeplan check FOLDER`: every problem of the program's files, told once for the rows that share it, the account of their rows, and the kinds of many problems. */
export async function checkFolder(folder: string, io: CommandIo): Promise<ExitCode> {
  const gathered = await gatherProgram(folder);
  if (!gathered.ok) {
    sayProblems(gathered.problems, io);
    return EXIT.notDone;
  }
  const { tallies } = gathered;
  const problems = problemsOfAll(gathered);
  const say = (severity: string, text: string) =>
    io.out(`${fitted(`${severity.padEnd(8)}  ${text}`, io, " ".repeat(10))}\n`);
  for (const { problem, rows } of repeatedProblems(problems))
    say(problem.severity, describeInRows(problem, rows));
  for (const { file, read, kept, duplicates, rejected } of tallies) {
    io.out(
      `${file}: ${showCount(read)} rows read = ${showCount(kept)} kept + ${showCount(duplicates)} duplicates + ${showCount(rejected)} rejected\n`,
    );
  }
  const rejected = problems.filter((problem) => problem.severity === "rejected").length;
  io.out(
    `${showCount(problems.length)} problem(s), ${showCount(rejected)} of them rejected values or rows.\n`,
  );
  if (problems.length > KINDS_FROM)
    for (const kind of problemKinds(problems))
      if (kind.times > 1) io.out(`${fitted(kindSaid(kind), io, "    ")}\n`);
  return exitCodeOf(gathered);
}

/** From so many problems on, more than a window holds, they are told by kind as well. */
const KINDS_FROM = 20;
const FOUND_SHOWN = 5;

function kindSaid({ times, file, column, severity, found, expected }: ProblemKind): string {
  const place = column === null ? file : `${file}, column "${column}"`;
  const shown = firstOf(found.map(quoted), FOUND_SHOWN);
  return `${showCount(times)} × ${place}: ${severity}; found ${shown}; expected ${expected}.`;
}

/** With what only a plan finds: laterals that the recipe's own scores leave without one. */
function problemsOfAll(gathered: GatheredProgram): readonly Problem[] {
  const { tables, problems } = gathered;
  if (!hasOwnScores(gathered.basis.scores)) return problems;
  const basis = fitProgram(tables, gathered.basis);
  return rankSheet(basis, planSheet(tables, basis, undefined, "totals").laterals, problems).problems;
}
