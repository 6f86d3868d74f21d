import { mkdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import { writeAtomically } from "../program/atomic-write.ts";
import { OUTPUTS, ownFolder } from "../program/program-files.ts";
import { seasonOf } from "../program/season-settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { pictureRisk } from "../season/risk-picture.ts";
import { refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { declaredSystem } from "./declared-system.ts";
import { lateralPlaces } from "./lateral-features.ts";
import { exitCodeOf, loadWholeOrSay } from "./load-program.ts";
import { reportPage } from "./report/page.ts";
import type { ReportContents } from "./report/sections.ts";

/** `wyeplan report FOLDER [--out FILE]`: one HTML file for a council, with pictures, that stands alone and prints. */
export async function reportOf(
  folder: string,
  options: { readonly out?: string },
  io: CommandIo,
): Promise<ExitCode> {
  const loaded = await loadWholeOrSay(folder, io);
  if (loaded === null) return EXIT.notDone;
  const { program, settings } = loaded;
  const season = seasonOf(settings);
  const own = await ownFolder(folder, OUTPUTS);
  if (options.out === undefined && !own.ok) return refuse(io, [own.problem]);
  const out = options.out ?? join(folder, OUTPUTS, "report.html");
  await mkdir(dirname(out), { recursive: true });
  await writeAtomically(
    out,
    reportPage({
      program,
      picture: pictureRisk(program),
      budget: season?.budget ?? null,
      mobilization: season?.mobilization ?? 0,
      places: placesFor(program, settings),
    }),
  );
  io.out(`${out}  for a council or the public: no address, no resident\n`);
  return exitCodeOf(program);
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
