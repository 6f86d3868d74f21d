import { basisForSettings } from "../program/basis-for-settings.ts";
import { seasonNameProblems } from "../program/season-runs.ts";
import { seasonOf } from "../program/season-settings.ts";
import { readSettings } from "../program/settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import { isoDate } from "../quantity/calendar.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { planSeason, schedulable } from "../season/season-calendar.ts";
import { programOfSeason } from "../season/season-program.ts";
import { rankedCut } from "../season/selection/ranked-cut.ts";
import type { SeasonRules } from "../season/selection/season-problem.ts";
import { totalSeason } from "../season/selection/season-totals.ts";
import { inspectionsIn } from "../season/tracking.ts";
import { workBeforeInspection } from "../season/unlooked-offers.ts";
import { refuse } from "./change-decisions.ts";
import { noSeasonText } from "./clash-words.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { listSaved, showSavedCurve } from "./curves-saved.ts";
import { exitCodeOf, loadWholeOrSay, sayProblems } from "./load-program.ts";
import { mayWriteOrSay } from "./save-under-lock.ts";
import { seasonAsJson } from "./season-json.ts";
import { idleMainProblems, strangers } from "./season-names.ts";
import { compareOrSay, saveOrSay } from "./season-saved.ts";
import { chosenRows } from "./season-shown.ts";
import { seasonText } from "./season-text.ts";
import { toSolve, viewOf } from "./season-view.ts";
import { type SeasonView, showGap, showWorth } from "./season-words.ts";
import { type SelectionProgress, solveInThread } from "./solve-in-thread.ts";
import { varySeason } from "./vary-season.ts";
import { whyInSeason } from "./why-in-season.ts";

export interface SeasonOptions {
  readonly json?: boolean;
  readonly gap?: string;
  /** Where a picture of the varied curve goes. */
  readonly picture?: string;
  readonly why?: string;
  readonly vary?: readonly string[];
  readonly save?: string;
  readonly against?: string;
  /** A saved curve to show again. */
  readonly curve?: string;
  readonly list?: boolean;
}

const HOW_TO =
  'program.json has no season to select. Add "season": { "budget": 1500000, "objective": "loss avoided" } to it; budget_pays, crew_days, districts, fair_share, mobilization_per_district, must_do, must_not, only_after and mains_lined may follow.';

/** `wyeplan season FOLDER`: the season that fits budget, crews and rules best, beside the ranked cut; varied, explained, saved, compared. */
export async function seasonOfFolder(
  folder: string,
  options: SeasonOptions,
  io: CommandIo,
): Promise<ExitCode> {
  const gap = readGap(options.gap);
  if (gap === null) {
    io.err(`--gap ${options.gap}: expected a part from 0 to 0.5, such as 0.001.\n`);
    return EXIT.notDone;
  }
  if (options.picture !== undefined && options.vary === undefined && options.curve === undefined) {
    io.err("--picture draws what --vary finds, or a saved --curve: ask for one of them with it.\n");
    return EXIT.notDone;
  }
  if (options.why !== undefined && options.json === true) {
    io.err(
      "--why is text and has no JSON: leave out one of the two. Of a season saved with --save NAME, the column season_reason says of every lateral why it is in or out.\n",
    );
    return EXIT.notDone;
  }
  if (options.list === true || options.curve !== undefined) return showSaved(folder, options, io);
  if (options.save !== undefined && !(await mayWriteOrSay(folder, io))) return EXIT.notDone;
  const loaded = await loadWholeOrSay(folder, io);
  if (loaded === null) return EXIT.notDone;
  const rules = seasonOf(loaded.settings);
  if (rules === null) {
    io.err(`${HOW_TO}\n`);
    return EXIT.notDone;
  }
  const { program } = loaded;
  const notThere = strangers(program, rules);
  if (notThere.length > 0) return refuse(io, notThere);
  sayProblems(idleMainProblems(program), io);
  const view = viewOf(program, rules);
  if (options.vary !== undefined)
    return varySeason(folder, { ...loaded, view }, { ...options, vary: options.vary, gap }, io);
  if (options.why !== undefined) return whyInSeason(program, view, options.why, gap, io);
  // Before a search that takes minutes in a big city.
  const unnamed = options.save === undefined ? [] : await seasonNameProblems(folder, options.save);
  if (unnamed.length > 0) return refuse(io, unnamed);
  return selectAndShow(folder, { ...loaded, rules, view, gap }, options, io);
}

/** What is saved needs no plan, only how the program writes its numbers. */
async function showSaved(folder: string, options: SeasonOptions, io: CommandIo): Promise<ExitCode> {
  const reading = await readSettings(folder);
  if (!reading.ok) return refuse(io, reading.problems);
  const style = basisForSettings(reading.settings).program;
  return options.curve === undefined
    ? listSaved(folder, style, io)
    : showSavedCurve(folder, style, { ...options, curve: options.curve }, io);
}

async function selectAndShow(
  folder: string,
  given: {
    readonly program: PlannedProgram;
    readonly settings: Settings;
    readonly rules: SeasonRules;
    readonly view: SeasonView;
    readonly gap: number;
  },
  options: SeasonOptions,
  io: CommandIo,
): Promise<ExitCode> {
  const { program, view, gap } = given;
  const { problem, plannedWork } = view.season;
  const [solved] = await solveInThread(
    [toSolve(view)],
    { gap, explain: options.save !== undefined },
    showProgress(view),
  );
  if (solved === undefined) throw new RangeError("selectAndShow: the solver gave no answer");
  const { selection, clash, explained } = solved;
  if (!selection.ok) {
    io.err(`${noSeasonText({ selection, clash }, view).join("\n")}\n`);
    return EXIT.notDone;
  }
  const cut = rankedCut(problem, program.order, plannedWork, view.packed);
  const chosenPlan = programOfSeason(
    program,
    "as selected",
    chosenRows(program, view, selection.chosen),
  ).program;
  const shown = {
    selection,
    cut,
    totals: totalSeason(program, view.season, selection.chosen),
    program: chosenPlan,
    // What is chosen is all to be done; a visit that is over is in the days gone.
    calendar: planSeason(chosenPlan, schedulable(chosenPlan), "left out"),
    inspections: inspectionsIn(program),
    beforeInspection: workBeforeInspection(program, view.season, selection.chosen),
  };
  const head = `${program.basis.program.name}, as of ${isoDate(program.basis.program.asOf)}`;
  io.out(
    options.json === true
      ? `${JSON.stringify(seasonAsJson(program, view, shown), null, 2)}\n`
      : `${head}\n\n${seasonText(view, shown)}\n`,
  );
  if (options.against !== undefined) {
    const compared = await compareOrSay(folder, options.against, program, view, selection, io);
    if (!compared) return EXIT.notDone;
  }
  if (
    options.save !== undefined &&
    !(await saveOrSay(folder, options.save, given, { selection, explained }, io))
  )
    return EXIT.notDone;
  return exitCodeOf(program);
}

function readGap(written: string | undefined): number | null {
  if (written === undefined) return 0.001;
  const gap = Number(written);
  return written.trim() !== "" && gap >= 0 && gap <= 0.5 ? gap : null;
}

/** The best so far and its gap on one line of the terminal's standard error; nothing elsewhere. */
function showProgress(view: SeasonView): SelectionProgress {
  if (process.stderr.isTTY !== true) return () => {};
  return (_, worth, bound) => {
    const found = Number.isFinite(worth) ? `best so far ${showWorth(worth, view)}` : "nothing found yet";
    const gap = Number.isFinite(worth) ? `, gap ${showGap((bound - worth) / bound)}` : "";
    process.stderr.write(`\r\u001b[2K${found}${gap} (Ctrl-C keeps it)`);
  };
}
