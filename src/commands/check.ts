import { describeProblem } from "../quantity/problem.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { exitCodeOf, gatherProgram, sayProblems } from "./load-program.ts";
import { fitted } from "./wrapped.ts";

/** `wyeplan check FOLDER`: every problem of the program's files, and the account of their rows. */
export async function checkFolder(folder: string, io: CommandIo): Promise<ExitCode> {
  const gathered = await gatherProgram(folder);
  if (!gathered.ok) {
    sayProblems(gathered.problems, io);
    return EXIT.notDone;
  }
  const { problems, tallies } = gathered;
  for (const problem of problems)
    io.out(
      `${fitted(`${problem.severity === "rejected" ? "rejected" : "noted   "}  ${describeProblem(problem)}`, io, " ".repeat(10))}\n`,
    );
  for (const { file, read, kept, duplicates, rejected } of tallies) {
    io.out(`${file}: ${read} rows read = ${kept} kept + ${duplicates} duplicates + ${rejected} rejected\n`);
  }
  const rejected = problems.filter((problem) => problem.severity === "rejected").length;
  io.out(`${problems.length} problem(s), ${rejected} of them rejected values or rows.\n`);
  return exitCodeOf(gathered);
}
