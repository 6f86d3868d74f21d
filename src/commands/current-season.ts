import { readSeasonRun, type SeasonRun, seasonRunNames } from "../program/season-runs.ts";
import { seasonOf } from "../program/season-settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { type SavedPlaces, withoutSeason, withSeason } from "../season/season-place.ts";
import { type SeasonRules, strangersIn } from "../season/selection/season-problem.ts";
import type { CommandIo } from "./command-io.ts";
import { sayProblems } from "./load-program.ts";
import { seasonInputs } from "./season-inputs.ts";
import { fitted } from "./wrapped.ts";

/** A saved season by its name. */
export interface NamedRun {
  readonly name: string;
  readonly run: SeasonRun;
}

/** The season that was saved last, and the files of seasons that cannot be read: one of them may be a later one. */
export async function savedSeasons(
  folder: string,
): Promise<{ readonly latest: NamedRun | null; readonly unread: readonly string[] }> {
  let latest: NamedRun | null = null;
  const unread: string[] = [];
  for (const name of await seasonRunNames(folder)) {
    const reading = await readSeasonRun(folder, name);
    if (!reading.ok) unread.push(name);
    // Stamps are ISO 8601 in UTC: their letters sort as their times.
    else if (latest === null || reading.run.saved.when >= latest.run.saved.when)
      latest = { name, run: reading.run };
  }
  return { latest, unread };
}

export const latestSeason = async (folder: string): Promise<NamedRun | null> =>
  (await savedSeasons(folder)).latest;

/** What the sheet must know to look again whether a season still holds: plain data. */
export interface SeasonToPlace {
  readonly latest: NamedRun | null;
  /** Saved seasons that cannot be read. */
  readonly unread: readonly string[];
  /** The rules of program.json; null where it has none. */
  readonly rules: SeasonRules | null;
}

export const seasonToPlace = async (folder: string, settings: Settings): Promise<SeasonToPlace> => ({
  ...(await savedSeasons(folder)),
  rules: seasonOf(settings),
});

/** The program with the columns of a saved season, or with the words for why they are empty. Needs all offers. */
export function placed(whole: PlannedProgram, { latest, unread, rules }: SeasonToPlace): PlannedProgram {
  const files = unread.map((name) => `runs/${name}.json`).join(", ");
  if (latest === null && unread.length > 0)
    return withoutSeason(whole, {
      name: unread[0]!,
      isFilled: false,
      said: `The columns of the season are empty: ${files} cannot be read; wyeplan season FOLDER --against ${unread[0]} says why. Take it from a backup, or delete it and save the season again.`,
    });
  const passedOver = unread.length === 0 ? "" : ` Passed over, as it cannot be read: ${files}.`;
  if (latest === null)
    return withoutSeason(whole, {
      name: "",
      isFilled: false,
      said: "No season is saved, so the columns of the season are empty: wyeplan season FOLDER --save NAME selects one and keeps it.",
    });
  const { name, run } = latest;
  const saved = `season ${name}, saved ${run.saved.when} by ${run.saved.who}`;
  const because = outOfDate(whole, rules, run);
  if (because !== null)
    return withoutSeason(whole, {
      name,
      isFilled: false,
      said: `The columns of the season are empty: ${saved}, ${because}. Select and save it again: wyeplan season FOLDER --save NAME.${passedOver}`,
    });
  return withSeason(whole, placesOf(name, run), {
    name,
    isFilled: true,
    said: `The columns of the season are of ${saved}, selected from this plan.${passedOver}`,
  });
}

/** Why a saved season is not one of this plan; null where it is. */
export function outOfDate(whole: PlannedProgram, rules: SeasonRules | null, run: SeasonRun): string | null {
  if (run.inputs === undefined) return "does not say what plan it was selected from";
  if (rules === null) return "has rules that program.json does not have any more";
  const { laterals, districts } = strangersIn(whole, rules);
  if (laterals.length + districts.length > 0)
    return "cannot be compared: the rules in program.json name what the city's file does not have";
  return seasonInputs(whole, rules) === run.inputs
    ? null
    : "was selected from another plan: decisions, settings, files or the day have changed since";
}

const placesOf = (name: string, { chosen, reasons = {}, so_far: soFar = [] }: SeasonRun): SavedPlaces => ({
  name,
  chosen,
  soFar,
  reasons: new Map(
    Object.entries(reasons).flatMap(([reason, ids = []]) =>
      ids.map((id) => [id, reason as keyof typeof reasons] as const),
    ),
  ),
});

/**
 * The saved season that was asked for by name, to be given to {@link withCurrentSeason}: null where none was, which there is the one saved
 * last. Undefined, and said, when it cannot be read.
 */
export async function askedSeason(
  folder: string,
  name: string | undefined,
  io: CommandIo,
): Promise<NamedRun | null | undefined> {
  if (name === undefined) return null;
  const reading = await readSeasonRun(folder, name);
  if (reading.ok) return { name, run: reading.run };
  sayProblems(reading.problems, io);
  return undefined;
}

/** The program with the columns of the season; which one they are of is said where any are handed on. */
export async function withCurrentSeason(
  folder: string,
  { program, settings }: { readonly program: PlannedProgram; readonly settings: Settings },
  io: CommandIo | null,
  named: NamedRun | null = null,
): Promise<PlannedProgram> {
  const toPlace = await seasonToPlace(folder, settings);
  const found = placed(program, named === null ? toPlace : { ...toPlace, latest: named, unread: [] });
  if (io !== null && found.season !== undefined) io.err(`${fitted(found.season.said, io)}\n`);
  return found;
}
