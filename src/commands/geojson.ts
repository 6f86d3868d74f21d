import { placedFaults } from "../program/settings.ts";
import { fileProblem, type Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { textAt } from "../sheet/table.ts";
import { refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { askedSeason, withCurrentSeason } from "./current-season.ts";
import { declaredSystem } from "./declared-system.ts";
import { lateralFeatures, lateralPlaces } from "./lateral-features.ts";
import { exitCodeOf, loadWholeOrSay, sayProblems } from "./load-program.ts";
import { columnsFor } from "./occupant-columns.ts";
import { writeOut } from "./write-out.ts";

/**
 * `wyeplan geojson FOLDER [--season NAME] [--with-addresses] [--out FILE]`: the laterals as points with what the plan says of each, RFC 7946.
 * Addresses, permissions and the city's own columns are left out unless they are asked for.
 */
export async function geojsonOf(
  folder: string,
  options: { readonly season?: string; readonly out?: string; readonly withAddresses?: boolean },
  io: CommandIo,
): Promise<ExitCode> {
  const season = await askedSeason(folder, options.season, io);
  if (season === undefined) return EXIT.notDone;
  const loaded = await loadWholeOrSay(folder, io);
  if (loaded === null) return EXIT.notDone;
  const { settings } = loaded;
  const declared = declaredSystem(settings);
  if (!declared.ok) return refuse(io, await placedFaults(folder, [declared.fault]));
  const program = await withCurrentSeason(folder, loaded, io, season);
  const { laterals } = program;
  const places = lateralPlaces(laterals, declared.toPlace);
  const lost = places.flatMap((place, row) => (place === null ? [row] : []));
  const file = settings.laterals.file;
  if (lost.length === places.length)
    return refuse(io, [noPlaceAt(file, textAt(laterals, "lateral", 0), places.length)]);
  if (lost.length > 0) sayProblems([noPlaceAt(file, textAt(laterals, "lateral", lost[0]!), lost.length)], io);
  const collection = lateralFeatures(
    program,
    places,
    columnsFor(program.columns, options.withAddresses === true, io),
  );
  // A feature a line: files of a big city stay readable, and compare line by line.
  const { features, ...head } = collection;
  const open = JSON.stringify(head).slice(0, -1);
  const lines = features.map((feature) => JSON.stringify(feature)).join(",\n");
  await writeOut(`${open},"features":[\n${lines}\n]}\n`, options.out, io);
  if (options.out !== undefined)
    io.err(
      `${options.out}: ${showCount(features.length)} lateral(s), ${showCount(lost.length)} without a place.\n`,
    );
  return exitCodeOf(program);
}

const noPlaceAt = (file: string, id: string, count: number): Problem => ({
  ...fileProblem(
    file,
    `${showCount(count)} lateral(s) without a place, the first is ${id}`,
    "x and y in the system that program.json declares, x the longitude where it is in degrees",
    "They have no geometry. Correct the coordinates, or the system.",
  ),
  severity: "noted",
});
