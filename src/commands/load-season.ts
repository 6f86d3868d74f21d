import { readSeasonRun, type SeasonRun } from "../program/season-runs.ts";
import type { Settings } from "../program/settings-schema.ts";
import { isoDate } from "../quantity/calendar.ts";
import { firstOf } from "../quantity/first-of.ts";
import { showCount, showQuantity } from "../quantity/show-quantity.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { type MovedCost, programOfSeason } from "../season/season-program.ts";
import { refuse } from "./change-decisions.ts";
import type { CommandIo } from "./command-io.ts";
import type { NamedRun } from "./current-season.ts";
import { loadWholeOrSay, type Planning, sayProblems } from "./load-program.ts";
import { showGap } from "./season-words.ts";
import { fitted } from "./wrapped.ts";

export interface LoadedSeason {
  /** The whole plan, or the season's where one is asked for. */
  readonly program: PlannedProgram;
  /** The whole plan, whatever was asked for. */
  readonly whole: PlannedProgram;
  readonly settings: Settings;
  /** Null where no season was asked for. */
  readonly season: NamedRun | null;
}

/**
 * The planned program, or the plan of one of its saved seasons: what keeps a lateral out of it, and whose cost has moved since it was
 * selected, is said. Null when it cannot be read.
 */
export async function loadSeasonOrSay(
  folder: string,
  name: string | undefined,
  io: CommandIo,
  prepare: (
    whole: PlannedProgram,
    settings: Settings,
    season: NamedRun | null,
  ) => PlannedProgram | Promise<PlannedProgram> = (whole) => whole,
  planning?: Planning,
): Promise<LoadedSeason | null> {
  const loaded = await loadWholeOrSay(folder, io, planning);
  if (loaded === null) return null;
  const { settings } = loaded;
  if (name === undefined) {
    const whole = await prepare(loaded.program, settings, null);
    return { program: whole, whole, settings, season: null };
  }
  const reading = await readSeasonRun(folder, name);
  if (!reading.ok) {
    refuse(io, reading.problems);
    return null;
  }
  const { run } = reading;
  const whole = await prepare(loaded.program, settings, { name, run });
  const { program, moved, problems } = programOfSeason(whole, name, run.chosen, run.so_far);
  sayProblems(problems, io);
  sayChanged(whole, settings, name, run, moved, io);
  return { program, whole, settings, season: { name, run } };
}

/** A season is a choice made on the inputs of its day: says where they are others now. */
function sayChanged(
  { basis }: PlannedProgram,
  settings: Settings,
  name: string,
  run: SeasonRun,
  moved: readonly MovedCost[],
  io: CommandIo,
): void {
  const say = (text: string) => void io.err(`${fitted(text, io)}\n`);
  const asOf = isoDate(basis.program.asOf);
  if (run.as_of !== asOf)
    say(`Season ${name} was selected as of ${run.as_of}; the program is as of ${asOf}.`);
  if (JSON.stringify(run.season) !== JSON.stringify(settings.season))
    say(`The rules of the season in program.json have changed since season ${name} was selected.`);
  if (run.ended !== "proven" && run.ended !== "packed")
    say(`Season ${name} is not proven (${run.ended}): another may be better by ${showGap(run.gap)}.`);
  if (moved.length > 0)
    say(
      `The program has changed since season ${name} was selected: the cost of ${showCount(moved.length)} of its laterals has moved: ${movedText(moved, basis)}.`,
    );
}

const SHOWN = 12;

function movedText(moved: readonly MovedCost[], { program }: PlannedProgram["basis"]): string {
  const money = (amount: number | null) =>
    amount === null ? "no price" : showQuantity(amount, "money", program);
  return firstOf(
    moved.map(({ lateral, was, now }) => `${lateral} (${money(was)} → ${money(now)})`),
    SHOWN,
  );
}
