import { seasonOf } from "../program/season-settings.ts";
import { isoDate } from "../quantity/calendar.ts";
import { describeInRows, quoted } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { withDecisions } from "../season/decided-columns.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { lateSurveysSaid } from "./late-surveys.ts";
import { exitCodeOf, type Gathered, gatherProgram, sayProblems } from "./load-program.ts";
import { type ProblemKind, problemKinds, repeatedProblems } from "./problem-kinds.ts";
import { idleMainsSaid, strangersSaid } from "./season-names.ts";
import { fitted } from "./wrapped.ts";

/** `wyeplan check FOLDER`: every problem of the program's files, told once for the rows that share it, the account of their rows, and the kinds of many problems. */
export async function checkFolder(folder: string, io: CommandIo): Promise<ExitCode> {
  const gathered = await gatherProgram(folder);
  if (!gathered.ok) {
    sayProblems(gathered.problems, io);
    return EXIT.notDone;
  }
  const { problems, tallies } = gathered;
  const say = (severity: string, text: string) =>
    io.out(`${fitted(`${severity.padEnd(8)}  ${text}`, io, " ".repeat(10))}\n`);
  for (const { problem, rows } of repeatedProblems(problems))
    say(problem.severity, describeInRows(problem, rows));
  const late = lateSurveysSaid(gathered.tables, isoDate(gathered.basis.program.asOf));
  const names = [...namesInRules(gathered), ...(late === null ? [] : [`${late}.`])];
  for (const said of names) say("noted", said);
  for (const { file, read, kept, duplicates, rejected } of tallies) {
    io.out(
      `${file}: ${showCount(read)} rows read = ${showCount(kept)} kept + ${showCount(duplicates)} duplicates + ${showCount(rejected)} rejected\n`,
    );
  }
  const rejected = problems.filter((problem) => problem.severity === "rejected").length;
  io.out(
    `${showCount(problems.length + names.length)} problem(s), ${showCount(rejected)} of them rejected values or rows.\n`,
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
  const shown = found.slice(0, FOUND_SHOWN).map(quoted);
  const more = found.length > FOUND_SHOWN ? ` and ${showCount(found.length - FOUND_SHOWN)} others` : "";
  return `${showCount(times)} × ${place}: ${severity}; found ${shown.join(", ")}${more}; expected ${expected}.`;
}

/** What the rules of the season name that the program does not have, or without effect. */
function namesInRules({ settings, tables, basis }: Extract<Gathered, { ok: true }>): readonly string[] {
  const rules = seasonOf(settings);
  if (rules === null) return [];
  // A decision, too, may say of a main that it is to be lined.
  const named = { laterals: withDecisions(tables.laterals, tables.decisions), basis };
  return [...strangersSaid(named, rules), ...idleMainsSaid(named)];
}
