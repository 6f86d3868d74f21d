import { readDecisionLog } from "../program/decision-log.ts";
import { foldDecisions } from "../program/decisions.ts";
import { DECISIONS_FILE } from "../program/program-files.ts";
import { seasonOf } from "../program/season-settings.ts";
import { lateralFile } from "../program/settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import { yearOf } from "../quantity/calendar.ts";
import { describeProblem, type Problem } from "../quantity/problem.ts";
import type { Progress, Wanted } from "../season/plan-sheet.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { finishInThreads } from "./finish-in-threads.ts";
import { fitInThreads } from "./fit-in-threads.ts";
import { type GatheredCity, gatherCity, isSaidAtOnce } from "./gather-city.ts";
import { planInThreads } from "./plan-in-threads.ts";
import { PlanThread } from "./plan-thread.ts";
import { progressBar } from "./progress-bar.ts";
import { strangers } from "./season-names.ts";
import { valueProblems } from "./value-problems.ts";
import { fitted } from "./wrapped.ts";

/** A program folder as read: the city's files, the settings, the decisions. */
export interface GatheredProgram extends Pick<GatheredCity, "ok" | "settings" | "basis" | "tallies"> {
  readonly tables: ProgramTables;
  readonly problems: readonly Problem[];
}

/** The same, or why it cannot be read. */
export type Gathered = GatheredProgram | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Reads everything a plan needs from a program folder; changes nothing in it.
 *
 * @param progress told the bytes of the city's files that are read, now and then
 * @param second a thread that may be started to read beside this one
 */
export async function gatherProgram(
  folder: string,
  progress?: Progress,
  second?: PlanThread,
): Promise<Gathered> {
  const city = await gatherCity(folder, progress, second);
  return city.ok ? withItsDecisions(folder, city) : city;
}

/** The city as read with the decisions that stand in the folder now. */
export async function withItsDecisions(folder: string, city: GatheredCity): Promise<GatheredProgram> {
  const { settings, basis, index, tallies } = city;
  const { file } = lateralFile(settings);
  const log = await readDecisionLog(folder);
  const { decisions, problems } = foldDecisions(log.sets, yearOf(basis.program.asOf));
  const tables = { ...city.tables, decisions };
  const { urgent, waiting } = valueProblems(tables, file, basis);
  const rules = seasonOf(settings);
  const unknown = [...decisions.keys()].filter((id) => !index.has(id));
  return {
    ok: true,
    settings,
    basis,
    tables,
    problems: [
      ...urgent,
      ...inRowOrder([...city.problems.laterals, ...waiting.filter((each) => each.file === file)]),
      ...city.problems.surveys,
      ...log.problems,
      ...problems,
      ...waiting.filter((each) => each.file !== file),
      ...(rules === null ? [] : strangers({ laterals: tables.laterals, basis }, rules)),
      ...unknown.map(decidedForNobody),
    ],
    tallies,
  };
}

/** Problems of the file first, then by row; those of one row stay in the order they were met. */
const inRowOrder = (problems: readonly Problem[]): readonly Problem[] =>
  [...problems].sort((a, b) => (a.row ?? 0) - (b.row ?? 0));

export type Loaded =
  | { readonly ok: true; readonly program: PlannedProgram; readonly settings: Settings }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Reads a program folder and plans it.
 *
 * @param second the thread beside this one, started or not; it ends with the plan
 */
export async function loadProgram(
  folder: string,
  progress?: Progress,
  wanted: Wanted = "everything",
  second = new PlanThread(),
): Promise<Loaded> {
  try {
    const gathered = await gatherProgram(folder, undefined, second);
    if (!gathered.ok) return gathered;
    const { settings, tables, problems, tallies } = gathered;
    const basis = await fitInThreads(tables, gathered.basis, second);
    const planned = await planInThreads(tables, basis, progress, wanted, second);
    const program = await finishInThreads(tables, basis, planned, { problems, tallies }, second);
    return { ok: true, program, settings };
  } finally {
    // Nobody has to wait for its end.
    void second.end();
  }
}

const decidedForNobody = (id: string): Problem => ({
  severity: "noted",
  file: DECISIONS_FILE,
  row: null,
  column: "lateral",
  found: id,
  expected: "the id of a lateral of the city's file",
  remedy: "The decision has no effect while the lateral is not in the file.",
});

/**
 * The planned program with a progress bar on a terminal; null when it cannot be read. What keeps it from being read, or
 * touches a whole file or a decision, is said.
 */
export const loadOrSay = async (folder: string, io: CommandIo): Promise<PlannedProgram | null> =>
  (await loadWholeOrSay(folder, io))?.program ?? null;

/** How a program is planned. */
export interface Planning {
  readonly wanted?: Wanted;
  /** A thread that was started for it already. */
  readonly second?: PlanThread;
}

/** The same with the settings it was planned under. */
export async function loadWholeOrSay(
  folder: string,
  io: CommandIo,
  { wanted, second }: Planning = {},
): Promise<{ readonly program: PlannedProgram; readonly settings: Settings } | null> {
  const loaded = await loadProgram(
    folder,
    progressBar("planning", process.stderr, () => performance.now()),
    wanted,
    second,
  );
  if (loaded.ok) {
    sayProblems(loaded.program.problems.filter(isSaidAtOnce), io);
    return loaded;
  }
  sayProblems(loaded.problems, io);
  return null;
}

/** Each problem on a line of standard error. */
export function sayProblems(problems: readonly Problem[], io: CommandIo): void {
  for (const problem of problems) io.err(`${fitted(describeProblem(problem), io)}\n`);
}

/** Whether something of the city's files was left out: the exit code says so. */
export const exitCodeOf = ({ problems }: { readonly problems: readonly Problem[] }): ExitCode =>
  problems.some((problem) => problem.severity === "rejected") ? EXIT.doneWithProblems : EXIT.done;
