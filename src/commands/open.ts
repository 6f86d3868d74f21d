import { existsSync } from "node:fs";
import { NOTHING_ISSUED, numbersIssued } from "../bidding/issued-numbers.ts";
import { asTyped } from "../program/as-typed.ts";
import { readDecisionLog } from "../program/decision-log.ts";
import { readIssueRecords } from "../program/issue-records.ts";
import type { ProgramLock } from "../program/lock.ts";
import { nearestWord } from "../program/nearest-word.ts";
import { seasonRunNames } from "../program/season-runs.ts";
import { readSettings } from "../program/settings.ts";
import { snapshotNames } from "../program/snapshots.ts";
import { planProgram } from "../season/planned-program.ts";
import { unplannedProgram } from "../season/unplanned-program.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { placed, seasonToPlace } from "./current-season.ts";
import { isSaidAtOnce } from "./gather-city.ts";
import { type Gathered, gatherProgram, sayProblems } from "./load-program.ts";
import { PlanThread } from "./plan-thread.ts";
import { progressBar } from "./progress-bar.ts";
import { rightsIn } from "./sheet-rights.ts";
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
  const held: ProgramLock[] = [];
  const rights = await rightsIn(folder, io, (lock) => held.push(lock));
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
    const saved = [...(await snapshotNames(folder)), ...(await seasonRunNames(folder))];
    const { sets } = await readDecisionLog(folder);
    const isNew = saved.length + sets.length === 0;
    const issues = await readIssueRecords(folder);
    // What is wrong with a record the commands of the bid say.
    const issued = issues.ok ? numbersIssued(issues.records) : NOTHING_ISSUED;
    const at = { folder, season, isNew, issued };
    return await openSheet(program, process, process.env, rights, at, isPlanned);
  } finally {
    for (const lock of held) await lock.release();
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
