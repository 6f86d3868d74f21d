import { describeProblem } from "../quantity/problem.ts";
import { type CommandIo, EXIT } from "./command-io.ts";
import { loadProgram } from "./load-program.ts";
import { progressBar } from "./progress-bar.ts";

/** `wyeplan FOLDER`: opens the program in the sheet. */
export async function openProgram(folder: string, io: CommandIo): Promise<number> {
  if (process.stdin.isTTY !== true || process.stdout.isTTY !== true) {
    io.err(
      `The sheet needs a terminal. Without one: wyeplan plan ${folder}, or wyeplan why ${folder} LATERAL.\n`,
    );
    return EXIT.notDone;
  }
  const loaded = await loadProgram(
    folder,
    progressBar("planning", process.stderr, () => performance.now()),
  );
  if (!loaded.ok) {
    for (const problem of loaded.problems) io.err(`${describeProblem(problem)}\n`);
    return EXIT.notDone;
  }
  const { openSheet } = await import("./open-sheet.ts");
  return openSheet(loaded.program, process, process.env);
}
