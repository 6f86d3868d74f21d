import { join } from "node:path";
import { OUTPUTS, ownFolder } from "../program/program-files.ts";
import { readSeasonRun, type SeasonRun, seasonRunNames } from "../program/season-runs.ts";
import { withStability } from "../season/selection-stability.ts";
import { bidExtras, dividedBid } from "./bid-extras.ts";
import { bookedSelection } from "./booked-selection.ts";
import { refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { withCurrentSeason } from "./current-season.ts";
import { exitCodeOf } from "./load-program.ts";
import { loadSeasonOrSay } from "./load-season.ts";
import { sayNotBid } from "./not-bid.ts";
import { fitted } from "./wrapped.ts";
import { writeWorkbook } from "./write-workbook.ts";

/** The saved season where there is exactly one that can be read. */
async function onlySeason(
  folder: string,
): Promise<{ readonly name: string; readonly run: SeasonRun } | null> {
  const [name, ...others] = await seasonRunNames(folder);
  if (name === undefined || others.length > 0) return null;
  const reading = await readSeasonRun(folder, name);
  return reading.ok ? { name, run: reading.run } : null;
}

/** `wyeplan workbook FOLDER [--out FOLDER] [--season NAME]`: writes the bid book and, apart from it, the planning book; of a season those of its laterals. */
export async function workbookOf(
  folder: string,
  options: { readonly out?: string; readonly season?: string },
  io: CommandIo,
): Promise<ExitCode> {
  const loaded = await loadSeasonOrSay(folder, options.season, io, (whole, settings, named) =>
    withCurrentSeason(folder, { program: withStability(whole), settings }, null, named),
  );
  if (loaded === null) return EXIT.notDone;
  // Only a folder that somebody named may be elsewhere: a link in the place of ours is not followed.
  const own = await ownFolder(folder, OUTPUTS);
  if (options.out === undefined && !own.ok) return refuse(io, [own.problem]);
  const { program, season } = loaded;
  sayNotBid(program, io);
  const divided = await dividedBid(folder, program, loaded.whole, loaded.settings);
  if (!divided.ok) return refuse(io, divided.problems);
  const place = season === null ? OUTPUTS : join(OUTPUTS, `season-${season.name}`);
  const shown = season ?? (await onlySeason(folder));
  const placed = loaded.whole.season;
  // The book says it too; who writes one looks here first.
  if (placed !== undefined && placed.name !== "" && !placed.isFilled) io.err(`${fitted(placed.said, io)}\n`);
  const selected =
    shown === null
      ? null
      : bookedSelection(
          loaded.whole,
          loaded.settings,
          shown.name,
          shown.run,
          season === null ? undefined : program,
        );
  const written = await writeWorkbook(
    program,
    options.out ?? join(folder, place),
    selected,
    (view) => bidExtras(view, program, loaded.settings),
    divided.bid,
  );
  io.out(
    `${written.bidBook}  for bidders: quantities and the lateral schedule, no estimate\n` +
      `${written.planningBook}  for the city: ranking, reasons, estimate, materials; never send it to bidders\n`,
  );
  return exitCodeOf(program);
}
