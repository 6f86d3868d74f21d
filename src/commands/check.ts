import { seasonOf } from "../program/season-settings.ts";
import { describeProblem } from "../quantity/problem.ts";
import { withDecisions } from "../season/decided-columns.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { exitCodeOf, type Gathered, gatherProgram, sayProblems } from "./load-program.ts";
import { idleMainsSaid, strangersSaid } from "./season-names.ts";
import { fitted } from "./wrapped.ts";

/** `wyeplan check FOLDER`: every problem of the program's files, and the account of their rows. */
export async function checkFolder(folder: string, io: CommandIo): Promise<ExitCode> {
  const gathered = await gatherProgram(folder);
  if (!gathered.ok) {
    sayProblems(gathered.problems, io);
    return EXIT.notDone;
  }
  const { problems, tallies } = gathered;
  const say = (severity: string, text: string) =>
    io.out(`${fitted(`${severity.padEnd(8)}  ${text}`, io, " ".repeat(10))}\n`);
  for (const problem of problems) say(problem.severity, describeProblem(problem));
  const names = namesInRules(gathered);
  for (const said of names) say("noted", said);
  for (const { file, read, kept, duplicates, rejected } of tallies) {
    io.out(`${file}: ${read} rows read = ${kept} kept + ${duplicates} duplicates + ${rejected} rejected\n`);
  }
  const rejected = problems.filter((problem) => problem.severity === "rejected").length;
  io.out(`${problems.length + names.length} problem(s), ${rejected} of them rejected values or rows.\n`);
  return exitCodeOf(gathered);
}

/** What the rules of the season name that the program does not have, or without effect. */
function namesInRules({ settings, tables, basis }: Extract<Gathered, { ok: true }>): readonly string[] {
  const rules = seasonOf(settings);
  if (rules === null) return [];
  // A decision, too, may say of a main that it is to be lined.
  const named = { laterals: withDecisions(tables.laterals, tables.decisions), basis };
  return [...strangersSaid(named, rules), ...idleMainsSaid(named)];
}
