import type { IssueRecord } from "../program/issue-records.ts";
import { chosenMark, readSeasonRun } from "../program/season-runs.ts";
import type { CommandIo } from "./command-io.ts";
import { fitted } from "./wrapped.ts";

/** The marks of the saved seasons that an issue is made from, by name: those of today. A season that is not there has none. */
export async function seasonMarks(
  folder: string,
  names: Iterable<string>,
): Promise<Readonly<Record<string, string>>> {
  const marks: Record<string, string> = {};
  for (const name of names) {
    const reading = await readSeasonRun(folder, name);
    if (reading.ok) marks[name] = chosenMark(reading.run);
  }
  return marks;
}

/**
 * Says which seasons of an issue are others now than when it was issued, and what that means for what is done.
 *
 * @param names the seasons that matter; all of the issue unless said
 */
export async function sayReselected(
  folder: string,
  issue: IssueRecord | undefined,
  means: string,
  io: CommandIo,
  names: readonly string[] = Object.keys(issue?.seasons ?? {}),
): Promise<void> {
  if (issue === undefined) return;
  const now = await seasonMarks(folder, names);
  for (const [name, mark] of Object.entries(issue.seasons)) {
    if (now[name] === mark || !names.includes(name)) continue;
    const what = now[name] === undefined ? "is not there any more, or cannot be read," : "was selected again";
    say(`Season ${name} ${what} since issue ${issue.number} of ${issue.date}: ${means}`, io);
  }
}

/** Says where an issue is of another season than the one before it. */
export function sayOtherSeason(
  last: IssueRecord | undefined,
  season: string | undefined,
  io: CommandIo,
): void {
  if (last === undefined || (last.season ?? undefined) === season) return;
  say(`Issue ${last.number} was of ${scopeName(last.season)}; this one is of ${scopeName(season)}.`, io);
}

/** What an issue is of. */
export const scopeName = (season: string | null | undefined): string =>
  season == null ? "the whole plan" : `season ${season}`;

const say = (text: string, io: CommandIo): void => io.err(`${fitted(text, io)}\n`);
