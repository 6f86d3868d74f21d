import { mkdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import { writeAtomically } from "../program/atomic-write.ts";
import { OUTPUTS, ownFolder, SETTINGS_FILE } from "../program/program-files.ts";
import { seasonOf } from "../program/season-settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import { fileProblem, type Problem } from "../quantity/problem.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { pictureRisk } from "../season/risk-picture.ts";
import { refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { withCurrentSeason } from "./current-season.ts";
import { declaredSystem } from "./declared-system.ts";
import { lateralPlaces } from "./lateral-features.ts";
import { exitCodeOf } from "./load-program.ts";
import { type LoadedSeason, loadSeasonOrSay } from "./load-season.ts";
import { certaintyOf } from "./report/certainty.ts";
import type { ReportContents } from "./report/contents.ts";
import { reportPage, seasonPage } from "./report/page.ts";
import { reportedSeason } from "./report/reported-season.ts";
import { strangers } from "./season-names.ts";

/** `wyeplan report FOLDER [--season NAME] [--out FILE]`: one HTML file for a council, with pictures, that stands alone and prints. */
export async function reportOf(
  folder: string,
  options: { readonly out?: string; readonly season?: string },
  io: CommandIo,
): Promise<ExitCode> {
  const loaded = await loadSeasonOrSay(folder, options.season, io, (whole, settings, named) =>
    named === null ? whole : withCurrentSeason(folder, { program: whole, settings }, null, named),
  );
  if (loaded === null) return EXIT.notDone;
  const page = loaded.season === null ? wholeReport(loaded) : seasonReport(loaded);
  if (typeof page !== "string") return refuse(io, page);
  const own = await ownFolder(folder, OUTPUTS);
  if (options.out === undefined && !own.ok) return refuse(io, [own.problem]);
  const place = loaded.season === null ? OUTPUTS : join(OUTPUTS, `season-${loaded.season.name}`);
  const out = options.out ?? join(folder, place, "report.html");
  await mkdir(dirname(out), { recursive: true });
  await writeAtomically(out, page);
  io.out(`${out}  for a council or the public: no address, no resident\n`);
  return exitCodeOf(loaded.program);
}

function wholeReport({ program, settings }: LoadedSeason): string {
  const season = seasonOf(settings);
  return reportPage({
    program,
    picture: pictureRisk(program),
    budget: season?.budget ?? null,
    mobilization: season?.mobilization ?? 0,
    certainty: certaintyOf(program),
    places: placesFor(program, settings),
  });
}

/** The page, or why there is none: what a season comes to hangs on the rules that it was selected by. */
function seasonReport(loaded: LoadedSeason): string | readonly Problem[] {
  const { whole, settings } = loaded;
  const rules = seasonOf(settings);
  if (rules === null)
    return [
      fileProblem(
        SETTINGS_FILE,
        "no season with a budget and an objective",
        "the rules that the saved season was selected by",
        "Put them back to report on it; wyeplan report without --season reports on the whole plan.",
      ),
    ];
  const notThere = strangers(whole, rules);
  return notThere.length > 0
    ? notThere
    : seasonPage(reportedSeason(loaded, rules, placesFor(whole, settings)));
}

/** Where the laterals are, or why there is no map of them. */
export function placesFor(program: PlannedProgram, settings: Settings): ReportContents["places"] {
  const declared = declaredSystem(settings);
  if (!declared.ok)
    return {
      none:
        settings.coordinates === undefined
          ? "program.json does not declare the system of the city's coordinates."
          : "the coordinate system in program.json cannot be read.",
    };
  const places = lateralPlaces(program.laterals, declared.toPlace);
  return places.some((place) => place !== null)
    ? places
    : { none: "no lateral has coordinates that are a place in the declared system." };
}
