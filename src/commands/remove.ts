import { basename } from "node:path";
import { addedFile, takeOut } from "../program/added-inspections.ts";
import type { ProgramLock } from "../program/lock.ts";
import { asOneWriter, refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { sayComparison } from "./compare.ts";
import { loadProgram } from "./load-program.ts";
import { keepRun, takeRun } from "./take-run.ts";

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
  const step = { command: "remove", file } as const;
  const runBefore = await takeRun(folder, before);
  const savedBefore = await keepRun(lock, { ...step, moment: "before" }, runBefore, io);
  if (!savedBefore.ok) return refuse(io, savedBefore.problems);
  const taken = await takeOut(lock, settings, file);
  if (!taken.ok) return refuse(io, taken.problems);
  const after = await loadProgram(folder);
  if (!after.ok) return refuse(io, after.problems);
  const runAfter = await takeRun(folder, after);
  const savedAfter = await keepRun(lock, { ...step, moment: "after" }, runAfter, io);
  if (!savedAfter.ok) return refuse(io, savedAfter.problems);
  io.out(`Took ${file} out of the program; it is kept as ${taken.kept}.\n`);
  if (!savedAfter.isNew) io.out(`The program is again what it was in ${savedAfter.name}.\n`);
  io.out("\n");
  return sayComparison(
    { name: savedBefore.name, run: runBefore },
    { name: savedAfter.name, run: runAfter },
    null,
    {},
    io,
  );
}
