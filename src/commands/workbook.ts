import { join } from "node:path";
import { describeProblem } from "../quantity/problem.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { loadProgram } from "./load-program.ts";
import { progressBar } from "./progress-bar.ts";
import { writeWorkbook } from "./write-workbook.ts";

/** Where a program's outputs go unless the user says otherwise. */
const OUTPUTS = "outputs";

/** `wyeplan workbook FOLDER [--out FOLDER]`: writes the bid book and, apart from it, the planning book. */
export async function workbookOf(
  folder: string,
  options: { readonly out?: string },
  io: CommandIo,
): Promise<ExitCode> {
  const loaded = await loadProgram(
    folder,
    progressBar("planning", process.stderr, () => performance.now()),
  );
  if (!loaded.ok) {
    for (const problem of loaded.problems) io.err(`${describeProblem(problem)}\n`);
    return EXIT.notDone;
  }
  const written = await writeWorkbook(loaded.program, options.out ?? join(folder, OUTPUTS));
  io.out(
    `${written.bidBook}  for bidders: quantities and the lateral schedule, no estimate\n` +
      `${written.planningBook}  for the city: ranking, reasons, estimate, materials; never send it to bidders\n`,
  );
  return loaded.program.problems.some((problem) => problem.severity === "rejected")
    ? EXIT.doneWithProblems
    : EXIT.done;
}
