import { type CommandIo, EXIT } from "./command-io.ts";
import { loadOrSay } from "./load-program.ts";

/** `wyeplan FOLDER`: opens the program in the sheet. */
export async function openProgram(folder: string, io: CommandIo): Promise<number> {
  if (process.stdin.isTTY !== true || process.stdout.isTTY !== true) {
    io.err(
      `The sheet needs a terminal. Without one: wyeplan plan ${folder}, or wyeplan why ${folder} LATERAL.\n`,
    );
    return EXIT.notDone;
  }
  const program = await loadOrSay(folder, io);
  if (program === null) return EXIT.notDone;
  const { openSheet } = await import("./open-sheet.ts");
  return openSheet(program, process, process.env);
}
