import { join } from "node:path";
import { ownFolder } from "../program/program-files.ts";
import { withStability } from "../season/selection-stability.ts";
import { refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { exitCodeOf } from "./load-program.ts";
import { loadSeasonOrSay } from "./load-season.ts";
import { writeWorkbook } from "./write-workbook.ts";

/** Where a program's outputs go unless the user says otherwise. */
const OUTPUTS = "outputs";

/** `wyeplan workbook FOLDER [--out FOLDER] [--season NAME]`: writes the bid book and, apart from it, the planning book; of a season those of its laterals. */
export async function workbookOf(
  folder: string,
  options: { readonly out?: string; readonly season?: string },
  io: CommandIo,
): Promise<ExitCode> {
  const loaded = await loadSeasonOrSay(folder, options.season, io, withStability);
  if (loaded === null) return EXIT.notDone;
  // Only a folder that somebody named may be elsewhere: a link in the place of ours is not followed.
  const own = await ownFolder(folder, OUTPUTS);
  if (options.out === undefined && !own.ok) return refuse(io, [own.problem]);
  const { program, season } = loaded;
  const place = season === null ? OUTPUTS : join(OUTPUTS, `season-${season.name}`);
  const written = await writeWorkbook(program, options.out ?? join(folder, place));
  io.out(
    `${written.bidBook}  for bidders: quantities and the lateral schedule, no estimate\n` +
      `${written.planningBook}  for the city: ranking, reasons, estimate, materials; never send it to bidders\n`,
  );
  return exitCodeOf(program);
}
