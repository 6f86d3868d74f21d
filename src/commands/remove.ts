import { basename } from "node:path";
import { addedFile, takeOut } from "../program/added-inspections.ts";
import type { ProgramLock } from "../program/lock.ts";
import { changeBetweenRuns } from "./change-between-runs.ts";
import { asOneWriter, refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { sayComparison } from "./compare.ts";
import { loadProgram } from "./load-program.ts";

/**
 * `wyeplan remove FOLDER --inspections NAME`: takes a file that was added out of the program again, replans, and says
 * what moved. The file itself is kept under `inspections/removed/`.
 */
export async function removeInspections(
  folder: string,
  options: { readonly inspections: string },
  io: CommandIo,
): Promise<ExitCode> {
  return asOneWriter(folder, io, (lock) => remove(lock, folder, options.inspections, io));
}

async function remove(lock: ProgramLock, folder: string, named: string, io: CommandIo): Promise<ExitCode> {
  const before = await loadProgram(folder);
  if (!before.ok) return refuse(io, before.problems);
  const { settings } = before;
  const file = addedFile(settings, named);
  if (file === null) {
    const added = (settings.added_inspections ?? []).map((of) => basename(of.file)).sort();
    io.err(
      `${JSON.stringify(named)} is no added file. ${added.length === 0 ? "None is added now" : `Added are: ${added.join(", ")}`}. Nothing changed.\n`,
    );
    return EXIT.notDone;
  }
  const takeItOut = () => takeOut(lock, settings, file);
  const step = { command: "remove", file } as const;
  const runs = await changeBetweenRuns(lock, folder, before, step, takeItOut, io);
  if (!runs.ok) return refuse(io, runs.problems);
  const { changed, after } = runs;
  io.out(`Took ${file} out of the program; it is kept as ${changed.kept}.\n`);
  if (!after.isNew) io.out(`The program is again what it was in ${after.name}.\n`);
  io.out("\n");
  return sayComparison(runs.before, after, null, {}, io);
}
