import { asTyped } from "../program/as-typed.ts";
import { readSettings } from "../program/settings.ts";
import { NOW, readSnapshot, snapshotNames } from "../program/snapshots.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { compareAsJson } from "./compare-json.ts";
import { compareRuns, type NamedRun } from "./compare-runs.ts";
import { compareText } from "./compare-text.ts";
import { loadProgram, sayProblems } from "./load-program.ts";
import { progressBar } from "./progress-bar.ts";
import { takeRun } from "./take-run.ts";

export interface CompareOptions {
  readonly top?: string;
  readonly all?: boolean;
  readonly json?: boolean;
}

/**
 * `wyeplan compare FOLDER [FROM] [TO]`: what moved between two saved runs, or between one and the program as it is,
 * and why. Without names it lists the snapshots.
 */
export async function compareSnapshots(
  folder: string,
  from: string | undefined,
  to: string | undefined,
  options: CompareOptions,
  io: CommandIo,
): Promise<ExitCode> {
  if (from === undefined) return listSnapshots(folder, io);
  const top = options.top === undefined ? null : Number(options.top);
  if (top !== null && !(Number.isSafeInteger(top) && top > 0)) {
    io.err(`--top: found ${JSON.stringify(options.top)}, expected a whole number of laterals, 1 or more.\n`);
    return EXIT.notDone;
  }
  const runs = [await runNamed(folder, from, io), await runNamed(folder, to ?? NOW, io)] as const;
  const [first, second] = runs;
  if (first === null || second === null) return EXIT.notDone;
  return sayComparison(first, second, top, options, io);
}

/** Prints a comparison of two runs. */
export async function sayComparison(
  from: NamedRun,
  to: NamedRun,
  top: number | null,
  options: CompareOptions,
  io: CommandIo,
): Promise<ExitCode> {
  const bar = progressBar("comparing", process.stderr, () => performance.now());
  const compared = await compareRuns(from, to, top, bar);
  if (!compared.ok) {
    sayProblems(compared.problems, io);
    return EXIT.notDone;
  }
  io.out(
    options.json === true
      ? `${JSON.stringify(compareAsJson(compared.comparison), null, 2)}\n`
      : `${compareText(compared.comparison, options.all === true, io.columns)}\n`,
  );
  return EXIT.done;
}

async function runNamed(folder: string, name: string, io: CommandIo): Promise<NamedRun | null> {
  if (name !== NOW) {
    const reading = await readSnapshot(folder, name);
    if (reading.ok) return { name, run: reading.snapshot };
    sayProblems(reading.problems, io);
    return null;
  }
  const loaded = await loadProgram(folder);
  if (loaded.ok) return { name, run: await takeRun(folder, loaded) };
  sayProblems(loaded.problems, io);
  return null;
}

async function listSnapshots(folder: string, io: CommandIo): Promise<ExitCode> {
  const names = await snapshotNames(folder);
  if (names.length === 0) {
    const reading = await readSettings(folder);
    if (!reading.ok) sayProblems(reading.problems, io);
    else
      io.err(
        `No run is saved yet: wyeplan plan ${asTyped(folder)} --save NAME saves one; add and remove save theirs.\n`,
      );
    return EXIT.notDone;
  }
  for (const name of names) {
    const reading = await readSnapshot(folder, name);
    if (reading.ok) {
      const { saved, as_of, ranking } = reading.snapshot;
      io.out(
        `${name}: ${saved.when}, ${saved.who}, ${saved.by}; as of ${as_of}, ${showCount(ranking.laterals.length)} laterals\n`,
      );
    } else sayProblems(reading.problems, io);
  }
  io.out(
    `wyeplan compare ${asTyped(folder)} NAME [NAME]: what moved from one to another, or to the program as it is.\n`,
  );
  return EXIT.done;
}
