import { existsSync } from "node:fs";
import { asTyped } from "../program/as-typed.ts";
import { readDecisionLog } from "../program/decision-log.ts";
import { type LockAttempt, takeLock } from "../program/lock.ts";
import { nearestWord } from "../program/nearest-word.ts";
import { errorCode } from "../program/program-files.ts";
import { seasonRunNames } from "../program/season-runs.ts";
import { readSettings } from "../program/settings.ts";
import { snapshotNames } from "../program/snapshots.ts";
import { planProgram } from "../season/planned-program.ts";
import { unplannedProgram } from "../season/unplanned-program.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { placed, seasonToPlace } from "./current-season.ts";
import { type Gathered, gatherProgram, isSaidAtOnce, sayProblems } from "./load-program.ts";
import type { SheetRights } from "./open-sheet.ts";
import { PlanThread } from "./plan-in-threads.ts";
import { progressBar } from "./progress-bar.ts";
import { fitted } from "./wrapped.ts";

/** Laterals that are planned in some tenths of a second: of more the sheet is shown first and planned beside it. */
const PLANNED_FIRST = 2_000;

/**
 * `wyeplan FOLDER`: opens the program in the sheet, as its one writer where nobody else is.
 *
 * @param commands names of all commands: a word that is no folder is most likely one of them, mistyped
 */
export async function openProgram(
  folder: string,
  io: CommandIo,
  commands: readonly string[] = [],
): Promise<number> {
  if (!existsSync(folder)) return sayUnknown("command or folder", folder, io, commands);
  if (process.stdin.isTTY !== true || process.stdout.isTTY !== true) {
    const reading = await readSettings(folder);
    if (!reading.ok) {
      sayProblems(reading.problems, io);
      return EXIT.notDone;
    }
    io.err(
      `The sheet needs a terminal. Without one: wyeplan plan ${asTyped(folder)}, or wyeplan why ${asTyped(folder)} LATERAL.\n`,
    );
    return EXIT.notDone;
  }
  // Before reading: nothing may be decided elsewhere between what is read here and what is decided here.
  const attempt = await lockToWrite(folder, io.now());
  try {
    const gathered = await gatherBeside(folder);
    if (!gathered.ok) {
      sayProblems(gathered.problems, io);
      return EXIT.notDone;
    }
    const { tables, basis, problems, tallies } = gathered;
    sayProblems(problems.filter(isSaidAtOnce), io);
    const season = await seasonToPlace(folder, gathered.settings);
    const isPlanned = tables.laterals.rows <= PLANNED_FIRST;
    const program = isPlanned
      ? placed(planProgram(tables, basis, { problems, tallies }), season)
      : unplannedProgram(tables, basis, { problems, tallies });
    const { openSheet } = await import("./open-sheet.ts");
    const rights: SheetRights = attempt.ok
      ? { kind: "decide", writer: { lock: attempt.lock, who: io.who, now: io.now } }
      : { kind: "look", because: attempt.because };
    const saved = [...(await snapshotNames(folder)), ...(await seasonRunNames(folder))];
    const { sets } = await readDecisionLog(folder);
    const isNew = saved.length + sets.length === 0;
    return await openSheet(program, process, process.env, rights, { folder, season, isNew }, isPlanned);
  } finally {
    if (attempt.ok) await attempt.lock.release();
  }
}

/** Says that there is no such command, and which was meant most likely. */
export function sayUnknown(
  what: "command" | "command or folder",
  word: string,
  io: CommandIo,
  commands: readonly string[],
): ExitCode {
  const meant = nearestWord(word, commands);
  const help =
    meant === null
      ? "wyeplan --help lists the commands; wyeplan new makes a program of a city's CSV files."
      : `Did you mean wyeplan ${meant}?`;
  io.err(`${fitted(`There is no ${what} ${JSON.stringify(word)}. ${help}`, io)}\n`);
  return EXIT.notDone;
}

/** Reads the program, a big one on two threads, with a progress bar. */
async function gatherBeside(folder: string): Promise<Gathered> {
  const second = new PlanThread();
  try {
    return await gatherProgram(
      folder,
      progressBar("reading", process.stderr, () => performance.now()),
      second,
    );
  } finally {
    await second.end();
  }
}

type Right = Extract<LockAttempt, { ok: true }> | { readonly ok: false; readonly because: string };

/** The right to write, or the words for why there is none. */
async function lockToWrite(folder: string, now: string): Promise<Right> {
  try {
    const attempt = await takeLock(folder, now);
    if (attempt.ok) return attempt;
    const [problem] = attempt.problems;
    if (problem === undefined) throw new RangeError("lockToWrite: refused without a problem");
    return {
      ok: false,
      because: `Read only. Another wyeplan writes here (${problem.found}). ${problem.remedy}`,
    };
  } catch (error) {
    switch (errorCode(error)) {
      case "EACCES":
      case "EPERM":
      case "EROFS":
        return { ok: false, because: "Read only: nothing may be written in this folder." };
      // Not there: reading it says so better.
      case "ENOENT":
      case "ENOTDIR":
        return { ok: false, because: "Read only: there is no such folder." };
      default:
        throw error;
    }
  }
}
